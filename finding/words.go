package finding

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// List joins words as a sentence does, last standing before the last of them:
// List(words, " and ") is "a, b and c".
func List(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + last + words[n-1]
}

// Capital is a text that begins with a capital, if it begins with a letter.
func Capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 || first == utf8.RuneError {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}
