package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"strapper/document"
	"strapper/engine"
)

type packCmd struct {
	jobFile
	Out string `help:"Folder for the two files; by default the one the job is in." type:"path"`
}

// Run writes the job pack as PDF and as one HTML file.
func (c *packCmd) Run(s *session) error {
	r, err := c.work(s, engine.Run)
	if err != nil {
		return err
	}
	pages := document.Pack(r)
	base := c.base()
	files := []string{base + ".pdf", base + ".html"}
	for i, write := range []func(io.Writer) error{pages.PDF, pages.HTML} {
		if err := writeFile(files[i], write); err != nil {
			return fmt.Errorf("cannot write the pack: %w", err)
		}
	}
	if c.JSON {
		s.json(packJSON{check(r), files})
		return nil
	}
	s.findings(r)
	s.verdict(r)
	fmt.Fprintf(s.out, "Job pack: %s and %s\n", files[0], files[1])
	return nil
}

// base is the path of the pack without its ending.
func (c *packCmd) base() string {
	name := strings.TrimSuffix(filepath.Base(c.File), filepath.Ext(c.File))
	if c.File == "-" {
		name = "job"
	}
	folder := c.Out
	if folder == "" {
		folder = filepath.Dir(c.File)
	}
	return filepath.Join(folder, name+"-pack")
}

// writeFile writes beside the file and then puts it in place, so that a fault
// half way leaves the old one whole.
func writeFile(name string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".pack-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := os.Chmod(f.Name(), 0o644); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
