package main

import (
	"flag"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected outputs in testdata/script")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"strapper": main})
}

// The command line is tested as a person uses it: scripts with the files they
// need and what is printed.
func TestScripts(t *testing.T) {
	examples, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script", UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("EXAMPLES", examples+"/../../examples")
			return nil
		},
	})
}
