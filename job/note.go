package job

import (
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
	if i := slices.IndexFunc(lines, func(l string) bool { return strings.TrimSpace(l) == "seen: []" }); i >= 0 {
		lines[i] = "seen:"
	}
	from, at, err := section(lines, "seen")
	indent = "  "
	for i := from + 1; from >= 0 && i < at; i++ {
		if plain := strings.TrimLeft(lines[i], " "); strings.HasPrefix(plain, "-") {
			indent = lines[i][:len(lines[i])-len(plain)]
			break
		}
	}
	return at, indent, err
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
	switch {
	case x.Ohm != nil:
		add("reads", fmt.Sprintf("%g ohm", float64(*x.Ohm)))
	case x.Volt != nil:
		add("reads", fmt.Sprintf("%g V", float64(*x.Volt)))
	default:
		add("is", x.Is)
	}
	if x.HighZ {
		add("meter", "high")
	}
	if x.Doubt > 0 {
		add("doubt", fmt.Sprintf("%g %%", 100*x.Doubt))
	}
	if x.Reported {
		add("told", "true")
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}
