package job

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"strapper/fault"
	"strapper/wiring"
)

// NoteSeen writes observations into the text of a job file, after those that
// its seen: section has already, and leaves everything else as it is. It fails
// if the section is not a list of lines.
func NoteSeen(text []byte, list []fault.Seen) ([]byte, error) {
	if len(list) == 0 {
		return text, nil
	}
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	at, indent, err := seenEndLine(lines)
	if err != nil {
		return nil, err
	}
	if at < 0 {
		lines = append(lines, "", "# What was seen and read while looking for a fault.", "seen:")
		at, indent = len(lines), "  "
	}
	var entries []string
	for i := range list {
		entries = append(entries, indent+"- "+seenText(&list[i]))
	}
	return []byte(strings.Join(slices.Insert(lines, at, entries...), "\n") + "\n"), nil
}

// seenEndLine finds the line after the last entry of the seen: section, and how
// its entries are indented; -1 if there is no section.
func seenEndLine(lines []string) (at int, indent string, err error) {
	start := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "seen:") })
	if start < 0 {
		return -1, "", nil
	}
	rest, _, _ := strings.Cut(strings.TrimPrefix(lines[start], "seen:"), "#")
	if rest = strings.TrimSpace(rest); rest == "[]" {
		lines[start], rest = "seen:", ""
	}
	if rest != "" {
		return 0, "", errors.New("the seen: section is written on one line: give each observation a line of its own that begins with -, so that more can be added")
	}
	at, indent = start+1, "  "
	for i := start + 1; i < len(lines); i++ {
		plain := strings.TrimSpace(lines[i])
		inside := strings.HasPrefix(lines[i], " ") || strings.HasPrefix(lines[i], "-")
		switch {
		case plain == "" || strings.HasPrefix(plain, "#"):
		case !inside:
			return at, indent, nil
		default:
			if at == start+1 {
				indent = lines[i][:len(lines[i])-len(strings.TrimLeft(lines[i], " "))]
			}
			at = i + 1
		}
	}
	return at, indent, nil
}

// seenText is one observation as the file has it.
func seenText(x *fault.Seen) string {
	var parts []string
	add := func(key, value string) { parts = append(parts, key+": "+value) }
	end := func(e wiring.End) string { return e.Box + "." + e.String() }
	pair := "[" + end(x.Between[0]) + ", " + end(x.Between[1]) + "]"
	switch x.Kind {
	case fault.SeenLamp:
		add("lamp", x.Of)
	case fault.SeenTrip:
		add("circuit", x.Of)
	case fault.SeenLook:
		add("look", x.Of)
	case fault.SeenAlone:
		add("alone", x.Of)
	case fault.SeenCause:
		add("cause", x.Of)
	case fault.SeenReading:
		add("between", pair)
	case fault.SeenInsulation:
		add("insulation", pair)
	case fault.SeenVolts:
		add("volts", pair)
	}
	if len(x.With) > 0 {
		var with []string
		for id, position := range x.With {
			with = append(with, id+": "+position)
		}
		slices.Sort(with)
		add("with", "{ "+strings.Join(with, ", ")+" }")
	}
	if x.Ohm != nil {
		add("reads", fmt.Sprintf("%g ohm", float64(*x.Ohm)))
	} else {
		add("is", x.Is)
	}
	if x.Doubt > 0 {
		add("doubt", fmt.Sprintf("%g %%", 100*x.Doubt))
	}
	if x.Reported {
		add("told", "true")
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}
