package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"strapper/engine"
	"strapper/job"
	"strapper/kit"
)

// A jobFile is the argument of the commands that work on a job.
type jobFile struct {
	File string `arg:"" help:"Job file (YAML); - reads it from standard input."`
	JSON bool   `help:"Print the result as JSON (see docs/json.md)."`
}

// read opens and reads the job. The error may be job.Problems.
func (f *jobFile) read(s *session) (*job.Job, error) {
	text, err := f.text(s.in)
	if err != nil {
		return nil, err
	}
	return f.parse(s, text)
}

// parse makes a job of the text of the file. The error may be job.Problems,
// which are printed already if JSON is wanted.
func (f *jobFile) parse(s *session, text []byte) (*job.Job, error) {
	j, problems := job.Read(f.name(), text, s.cat)
	if len(problems) == 0 {
		return j, nil
	}
	if f.JSON {
		s.json(problemsJSON{Problems: problems})
	}
	return nil, problems
}

func (f *jobFile) name() string { return called(f.File) }

// called is the name of a file in messages.
func called(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

func (f *jobFile) text(in io.Reader) ([]byte, error) {
	text, err := readUpTo(f.File, in, job.MaxBytes+1)
	if err != nil {
		return nil, fmt.Errorf("cannot read the job: %w", err)
	}
	return text, nil
}

// readUpTo reads a file, or standard input for a dash, but no more bytes than
// most.
func readUpTo(name string, in io.Reader, most int64) ([]byte, error) {
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		in = file
	}
	return io.ReadAll(io.LimitReader(in, most))
}

// writeNew writes a file that must not be there yet.
func writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close())
}

// replace puts a new text in the place of the one that was read; standard input
// cannot keep it. Whatever happens on the way, the file holds the one or the
// other whole; and where somebody has changed it meanwhile it is left alone.
func (f *jobFile) replace(was, text []byte) error {
	if f.File == "-" || bytes.Equal(was, text) {
		return nil
	}
	name, err := filepath.EvalSymlinks(f.File)
	if err != nil {
		return err
	}
	now, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return fmt.Errorf("%s was changed meanwhile by something else and is left as it is; start again to go on from it", f.File)
	}
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	part, err := os.CreateTemp(filepath.Dir(name), ".strapper-*")
	if err != nil {
		return err
	}
	defer os.Remove(part.Name()) // it is gone where all went well
	_, err = part.Write(text)
	err = errors.Join(err, part.Sync(), part.Chmod(info.Mode().Perm()), part.Close())
	if err != nil {
		return err
	}
	return os.Rename(part.Name(), name)
}

// work reads the job and runs passes over it, telling a person at a terminal
// that it is still at it after a second.
func (f *jobFile) work(s *session, passes func(*job.Job, *kit.Catalogue) (*engine.Result, error)) (*engine.Result, error) {
	j, err := f.read(s)
	if err != nil {
		return nil, err
	}
	done := s.progress("working through the positions of the switches")
	r, err := passes(j, s.cat)
	done()
	if err == nil && (r.Forbidden() || r.Failed()) {
		s.code = exitForbids
	}
	return r, err
}

// progress writes a line each second until the returned function is called.
func (s *session) progress(what string) (done func()) {
	if !terminal(s.err) {
		return func() {}
	}
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for n := 1; ; n++ {
			select {
			case <-stop:
				return
			case <-tick.C:
				fmt.Fprintf(s.err, "strapper: %s, %d s\n", what, n)
			}
		}
	}()
	return func() { close(stop); <-stopped }
}

// terminal reports whether a writer is a terminal that wants colour and
// progress; NO_COLOR (no-color.org) turns both off.
func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
