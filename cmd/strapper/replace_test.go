package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// Answers go into the file whole or not at all: its mode stays, nothing is left
// beside it, and what somebody else wrote meanwhile is not lost.
func TestReplaceKeepsWhatOthersWrote(t *testing.T) {
	name := filepath.Join(t.TempDir(), "job.yaml")
	if err := os.WriteFile(name, []byte("as read\n"), 0o640); err != nil {
		t.Fatal(err)
	}
	f := &jobFile{File: name}
	if err := f.replace([]byte("as read\n"), []byte("noted\n")); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(name); string(got) != "noted\n" {
		t.Errorf("the file holds %q", got)
	}
	if info, err := os.Stat(name); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	if err := os.WriteFile(name, []byte("edited by hand\n"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := f.replace([]byte("noted\n"), []byte("noted twice\n")); err == nil || !strings.Contains(err.Error(), "changed meanwhile") {
		t.Errorf("what was edited by hand would be lost: %v", err)
	}
	if got, _ := os.ReadFile(name); string(got) != "edited by hand\n" {
		t.Errorf("the file holds %q", got)
	}
	if list, _ := os.ReadDir(filepath.Dir(name)); len(list) != 1 {
		t.Errorf("%d files are left in the directory", len(list))
	}
}
