package wiring_test

import (
	"slices"
	"testing"

	"strapper/kit"
	"strapper/wiring"
)

// A lamp is lit or dark, a fan on or off, and what an accessory draws for
// itself is nobody's lamp.
func TestLampsAndTheirWords(t *testing.T) {
	cat, err := kit.Open()
	if err != nil {
		t.Fatal(err)
	}
	fit := func(id, kind string) *wiring.Fitted {
		return &wiring.Fitted{ID: id, Kind: cat.Accessories[kind]}
	}
	g, problems := wiring.Build(&wiring.Installation{Boxes: []*wiring.Box{{ID: "a", Fit: []*wiring.Fitted{fit("pir", "pir"), fit("lamp", "luminaire"), fit("fan", "fan")}}}})
	if g == nil {
		t.Fatal(problems)
	}
	var got []string
	for _, i := range g.Lamps() {
		l := &g.Loads[i]
		got = append(got, l.Item.ID, l.Word(false), l.Word(true))
	}
	if want := []string{"lamp", "dark", "lit", "fan", "off", "on"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
