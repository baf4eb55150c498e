package job

import (
	"fmt"
	"slices"
	"strings"

	"strapper/fault"
)

// NoteSeen writes observations into the text of a job file, after those that
// its seen: section has already, and leaves everything else as it is. It fails
// if the section is not a list of lines.
func NoteSeen(text []byte, list []fault.Seen) ([]byte, error) {
	if len(list) == 0 {
		return text, nil
	}
	lines := linesOf(text)
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
	return textOf(slices.Insert(lines, at, entries...)), nil
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
		if strings.HasPrefix(strings.TrimLeft(lines[i], " "), "-") {
			indent = indentOf(lines[i])
			break
		}
	}
	return at, indent, err
}

// seenText is one observation as the file has it.
func seenText(x *fault.Seen) string {
	parts := []string{aboutText(x)}
	if len(x.With) > 0 {
		var with []string
		for id, position := range x.With {
			with = append(with, id+": "+position)
		}
		slices.Sort(with)
		parts = append(parts, "with: { "+strings.Join(with, ", ")+" }")
	}
	parts = append(parts, valueText(x))
	for _, extra := range []struct {
		there bool
		text  string
	}{{x.HighZ, "meter: high"}, {x.Doubt > 0, fmt.Sprintf("doubt: %g %%", 100*x.Doubt)}, {x.Reported, "told: true"}} {
		if extra.there {
			parts = append(parts, extra.text)
		}
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// seenKeys are the keys of the kinds of observation.
var seenKeys = map[fault.SeenKind]string{
	fault.SeenLamp: "lamp", fault.SeenTrip: "circuit", fault.SeenLook: "look", fault.SeenAlone: "alone", fault.SeenCause: "cause",
	fault.SeenReading: "between", fault.SeenInsulation: "insulation", fault.SeenVolts: "volts",
}

// aboutText is what an observation is about.
func aboutText(x *fault.Seen) string {
	if x.Of != "" {
		return seenKeys[x.Kind] + ": " + x.Of
	}
	return seenKeys[x.Kind] + ": [" + x.Between[0].Path() + ", " + x.Between[1].Path() + "]"
}

// valueText is what was seen, a number where there is one.
func valueText(x *fault.Seen) string {
	switch {
	case x.Ohm != nil:
		return fmt.Sprintf("reads: %g ohm", float64(*x.Ohm))
	case x.Volt != nil:
		return fmt.Sprintf("reads: %g V", float64(*x.Volt))
	}
	return "is: " + x.Is
}
