package finding

import (
	"testing"
)

func TestWords(t *testing.T) {
	for _, c := range []struct {
		words []string
		want  string
	}{{nil, ""}, {[]string{"a"}, "a"}, {[]string{"a", "b"}, "a or b"}, {[]string{"a", "b", "c"}, "a, b or c"}} {
		if got := List(c.words, " or "); got != c.want {
			t.Errorf("List(%q): %q, want %q", c.words, got, c.want)
		}
	}
	for text, want := range map[string]string{"": "", "a box": "A box", "übergang": "Übergang", "2 boxes": "2 boxes", "\xff": "\xff", "Hall": "Hall"} {
		if got := Capital(text); got != want {
			t.Errorf("Capital(%q): %q, want %q", text, got, want)
		}
	}
}
