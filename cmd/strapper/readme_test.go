package main

import (
	"os"
	"reflect"
	"strings"
	"testing"
)

// The README lists every command once.
func TestReadmeListsTheCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	all := reflect.TypeFor[commands]()
	for i := range all.NumField() {
		name := strings.ToLower(all.Field(i).Name)
		if n := strings.Count(string(text), "\n| `strapper "+name); n != 1 {
			t.Errorf("the table of README.md has strapper %s %d times, want once", name, n)
		}
	}
	if n := strings.Count(string(text), "\n| `strapper "); n != all.NumField() {
		t.Errorf("the table of README.md has %d commands, there are %d", n, all.NumField())
	}
}
