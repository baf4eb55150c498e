// Package spicetest runs decks written by network.WriteSpice in ngspice, so that
// tests can compare the voltages of this program with those of an independent
// one. It is for tests only.
package spicetest

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// limit is how long one ngspice may run; a deck of these tests takes a second.
const limit = 2 * time.Minute

// Need fails the test if ngspice is not installed: a comparison that is left
// out must not look like one that agreed. With -short it skips instead.
func Need(tb testing.TB) {
	tb.Helper()
	if testing.Short() {
		tb.Skip("-short: the comparison with ngspice is left out")
	}
	if _, err := exec.LookPath("ngspice"); err != nil {
		tb.Fatalf("ngspice is needed for this comparison: install it (Debian: apt-get install ngspice) or use -short: %v", err)
	}
}

// Run gives the deck to "ngspice -b" and returns the node voltages it prints,
// by node name.
func Run(tb testing.TB, deck []byte) map[string]complex128 {
	tb.Helper()
	out := Output(tb, deck)
	volts := map[string]complex128{}
	for line := range strings.Lines(out) {
		name, v, ok := parse(strings.TrimSpace(line))
		if ok {
			volts[name] = v
		}
	}
	if len(volts) == 0 {
		tb.Fatalf("ngspice printed no voltage:\n%s", out)
	}
	return volts
}

// Output gives the deck to "ngspice -b" and returns what it prints.
func Output(tb testing.TB, deck []byte) string {
	tb.Helper()
	Need(tb)
	file := filepath.Join(tb.TempDir(), "deck.cir")
	if err := os.WriteFile(file, deck, 0o600); err != nil {
		tb.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	var out, errs bytes.Buffer
	cmd := exec.CommandContext(ctx, "ngspice", "-b", file)
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		tb.Fatalf("ngspice: %v\n%s\n%s", err, errs.String(), out.String())
	}
	return out.String()
}

// parse reads "v(n1) = 1.5e+00,-2e-03" or "v(n1) = 1.5e+00".
func parse(line string) (name string, v complex128, ok bool) {
	var im float64
	left, right, found := strings.Cut(line, " = ")
	if !found || !strings.HasPrefix(left, "v(") || !strings.HasSuffix(left, ")") {
		return "", 0, false
	}
	a, b, isComplex := strings.Cut(right, ",")
	re, err := strconv.ParseFloat(a, 64)
	if err == nil && isComplex {
		im, err = strconv.ParseFloat(b, 64)
	}
	if err != nil {
		panic(fmt.Sprintf("ngspice printed %q, which is not a voltage", line))
	}
	return left[2 : len(left)-1], complex(re, im), true
}
