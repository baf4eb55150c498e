package strapper_test

import (
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

// Every code that a test of the passes pins is explained to the user, so that a
// new finding cannot appear without a line in docs/findings.md.
func TestFindingsAreExplained(t *testing.T) {
	page, err := os.ReadFile("docs/findings.md")
	if err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("git", "grep", "-hoE", `(Code: |Code = |f\.Code, f\.[A-Za-z]+ = |[a-z]+\([^"]*|forbid\([^,]*, )"[a-z]+(-[a-z]+)+"`, "--",
		"switching/*.go", "sizing/*.go", "change/*.go", "engine/*.go", "reading/*.go", "wiring/build.go", "house/*.go", "route/*.go", ":!*_test.go").Output()
	if err != nil {
		t.Fatal(err)
	}
	codes := regexp.MustCompile(`"([a-z]+(?:-[a-z]+)+)"`).FindAllStringSubmatch(string(out), -1)
	if len(codes) < 40 {
		t.Fatalf("only %d codes found in the sources", len(codes))
	}
	for _, c := range codes {
		if !strings.Contains(string(page), "`"+c[1]+"`") {
			t.Errorf("docs/findings.md does not explain %s", c[1])
		}
	}
}
