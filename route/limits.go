package route

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"

	"strapper/kit"
	"strapper/source"
	"strapper/unit"
)

// MM is a length in whole millimetres.
type MM = unit.Millimetre

// Limits are what a route keeps to. They are values, so that a rule book can
// give others; [Usual] gives those of the data files. Percentages are of a
// joist's span or depth, of a stud's length or depth, of a wall's thickness.
type Limits struct {
	TopBand, CornerBand MM // zones for hidden cables
	ThinWall            MM // an accessory's zone counts on the other side of a wall up to this
	Cover               MM // from a surface or a joist's edge: deeper, no zone is asked for

	HoleFrom, HoleTo   unit.Percent // where a joist may be drilled
	HoleShare          unit.Percent
	HoleMost           MM
	HoleApart          int // diameters of the larger, centre to centre
	HoleBetween        MM  // timber left between the edges of two holes
	NotchFrom, NotchTo unit.Percent
	NotchShare         unit.Percent
	NotchMost          MM
	HoleToNotch        MM
	JoistDeepest       MM

	StudShare, StudFrom, StudTo    unit.Percent
	ChaseVertical, ChaseHorizontal unit.Percent

	Drop           MM // longest without a support
	InsulationThin MM
	HeatClear      MM
	ServiceClear   MM
	LoftLeast      MM // clear height at the ridge below which nobody gets into a loft

	HolePlay    MM
	DatumFixed  MM
	DatumShare  unit.Percent
	LengthFixed MM
	LengthShare unit.Percent
	MessMinutes int // minutes that one point of mess weighs

	Clips  []ClipRow // by the cable's wider side, ascending
	Bends  []BendRow // by the cable's wider side, ascending
	Drills []MM      // ascending

	Sources []source.Figure // the same figures with where they come from
}

// ClipRow is the greatest spacing of clips for cables up to a width.
type ClipRow struct {
	UpTo       MM `json:"up_to_mm"`
	Horizontal MM `json:"horizontal_mm"`
	Vertical   MM `json:"vertical_mm"`
}

// BendRow is the least inside radius of a bend for cables up to a width, in
// widths.
type BendRow struct {
	UpTo  MM  `json:"up_to_mm"`
	Times int `json:"times"`
}

//go:embed data/limits.json
var limitsFile []byte

//go:embed data/cables.json
var cablesFile []byte

// Usual gives the limits of the data files. An error is a fault in them.
func Usual() (Limits, error) {
	var l Limits
	var rows []struct {
		Key, Name string
		MM        *MM           `json:"mm"`
		Percent   *unit.Percent `json:"percent"`
		Tenths    *unit.Percent `json:"tenths_percent"`
		Count     *int          `json:"count"`
		Source    source.Source `json:"source"`
	}
	if err := json.Unmarshal(limitsFile, &rows); err != nil {
		return l, fmt.Errorf("data/limits.json: %w", err)
	}
	places := l.places()
	for _, row := range rows {
		value := ""
		switch to := places[row.Key].(type) {
		case *MM:
			if row.MM != nil {
				*to, value = *row.MM, row.MM.String()
			}
		case *unit.Percent:
			if row.Tenths != nil {
				p := *row.Tenths / 10
				row.Percent = &p
			}
			if row.Percent != nil {
				*to, value = *row.Percent, row.Percent.String()
			}
		case *int:
			if row.Count != nil {
				*to, value = *row.Count, fmt.Sprint(*row.Count)
			}
		}
		if value == "" || !row.Source.Authority.Valid() {
			return l, fmt.Errorf("data/limits.json: %q is not a limit with a value and a source", row.Key)
		}
		delete(places, row.Key)
		l.Sources = append(l.Sources, source.Figure{Name: "route: " + row.Name, Value: value, Source: row.Source})
	}
	if len(places) > 0 {
		return l, fmt.Errorf("data/limits.json: %d limits have no value", len(places))
	}
	return l, l.cables()
}

// places are the limits by their keys in the data file.
func (l *Limits) places() map[string]any {
	return map[string]any{
		"top-band": &l.TopBand, "corner-band": &l.CornerBand, "thin-wall": &l.ThinWall, "cover": &l.Cover,
		"hole-from": &l.HoleFrom, "hole-to": &l.HoleTo, "hole-share": &l.HoleShare, "hole-most": &l.HoleMost, "hole-apart": &l.HoleApart, "hole-between": &l.HoleBetween,
		"notch-from": &l.NotchFrom, "notch-to": &l.NotchTo, "notch-share": &l.NotchShare, "notch-most": &l.NotchMost,
		"hole-to-notch": &l.HoleToNotch, "joist-deepest": &l.JoistDeepest,
		"stud-share": &l.StudShare, "stud-from": &l.StudFrom, "stud-to": &l.StudTo,
		"chase-vertical": &l.ChaseVertical, "chase-horizontal": &l.ChaseHorizontal,
		"drop": &l.Drop, "insulation-thin": &l.InsulationThin, "heat-clear": &l.HeatClear, "service-clear": &l.ServiceClear, "loft-least": &l.LoftLeast,
		"hole-play": &l.HolePlay, "datum-fixed": &l.DatumFixed, "datum-share": &l.DatumShare,
		"length-fixed": &l.LengthFixed, "length-share": &l.LengthShare, "mess-minutes": &l.MessMinutes,
	}
}

// cables reads the tables that go by the size of a cable.
func (l *Limits) cables() error {
	var t struct {
		Clips        []ClipRow     `json:"clips"`
		ClipsSource  source.Source `json:"clips_source"`
		Bends        []BendRow     `json:"bends"`
		BendsSource  source.Source `json:"bends_source"`
		Drills       []MM          `json:"drills_mm"`
		DrillsSource source.Source `json:"drills_source"`
	}
	if err := json.Unmarshal(cablesFile, &t); err != nil {
		return fmt.Errorf("data/cables.json: %w", err)
	}
	l.Clips, l.Bends, l.Drills = t.Clips, t.Bends, t.Drills
	for _, row := range t.Clips {
		l.Sources = append(l.Sources, source.Figure{
			Name:   fmt.Sprintf("route: spacing of clips, cable up to %v wide", row.UpTo),
			Value:  fmt.Sprintf("%v along, %v up and down", row.Horizontal, row.Vertical),
			Source: t.ClipsSource,
		})
	}
	for _, row := range t.Bends {
		l.Sources = append(l.Sources, source.Figure{
			Name: fmt.Sprintf("route: inside radius of a bend, cable up to %v wide", row.UpTo), Value: fmt.Sprintf("%d times its width", row.Times), Source: t.BendsSource,
		})
	}
	l.Sources = append(l.Sources, source.Figure{Name: "route: drills carried", Value: fmt.Sprint(t.Drills), Source: t.DrillsSource})
	return nil
}

// Figures lists the limits with their sources.
func (l *Limits) Figures() []source.Figure { return l.Sources }

// share is a percentage of a length, rounded down: a limit is not exceeded by
// rounding.
func share(p unit.Percent, of MM) MM { return MM(math.Floor(float64(of)*float64(p)/100 + 1e-9)) }

// shareUp is the same rounded up, for a least distance.
func shareUp(p unit.Percent, of MM) MM { return MM(math.Ceil(float64(of)*float64(p)/100 - 1e-9)) }

// Clip is the greatest spacing of clips for a cable, along and up and down. ok
// is false off the table, which is never extrapolated.
func (l *Limits) Clip(k *kit.Cable) (horizontal, vertical MM, ok bool) {
	for _, row := range l.Clips {
		if k.Width > 0 && k.Width <= row.UpTo {
			return row.Horizontal, row.Vertical, true
		}
	}
	return 0, 0, false
}

// Bend is the least inside radius to which a cable may be bent; of a flat one
// the wider side counts, whichever way it is bent. ok is false off the table.
func (l *Limits) Bend(k *kit.Cable) (radius MM, ok bool) {
	for _, row := range l.Bends {
		if k.Width > 0 && k.Width <= row.UpTo {
			return k.Width * MM(row.Times), true
		}
	}
	return 0, false
}

// Hole is the smallest drill carried that lets so many cables of a kind pass
// side by side, flat on flat. ok is false where the cable's size is not known,
// or no drill is large enough.
func (l *Limits) Hole(k *kit.Cable, cables int) (diameter MM, ok bool) {
	if k.Width <= 0 || k.Thickness <= 0 || cables < 1 {
		return 0, false
	}
	need := math.Hypot(float64(k.Width), float64(k.Thickness)*float64(cables)) + float64(l.HolePlay)
	for _, d := range l.Drills {
		if float64(d) >= need {
			return d, true
		}
	}
	return 0, false
}

// A Timber is a verdict on a hole or a notch in a joist or a stud.
type Timber struct {
	OK      bool
	Protect bool   // allowed with a steel plate against nails: less than Cover from an edge
	Why     string // the limit that forbids it
}

// inPart reports whether a place lies between two shares of a length, from
// either of its ends.
func inPart(at, length MM, from, to unit.Percent) bool {
	near := min(at, length-at)
	return near >= shareUp(from, length) && near <= share(to, length)
}

// JoistHole judges a hole on the centre line of a solid joist: at a distance
// from one bearing of a clear span.
func (l *Limits) JoistHole(depth, span, at, diameter MM) Timber {
	switch {
	case depth > l.JoistDeepest:
		return Timber{Why: fmt.Sprintf("a joist deeper than %v is for an engineer", l.JoistDeepest)}
	case !inPart(at, span, l.HoleFrom, l.HoleTo):
		return Timber{Why: fmt.Sprintf("a joist is drilled between %v and %v of its span from a bearing", l.HoleFrom, l.HoleTo)}
	case diameter > share(l.HoleShare, depth):
		return Timber{Why: fmt.Sprintf("a hole is at most %v of the joist's depth", l.HoleShare)}
	case diameter > l.HoleMost:
		return Timber{Why: fmt.Sprintf("a hole in a joist is at most %v", l.HoleMost)}
	}
	return Timber{OK: true, Protect: depth-diameter < 2*l.Cover}
}

// JoistNotch judges a notch in the upper edge of a solid joist. A notch always
// needs a steel plate: it is less than Cover from the edge.
func (l *Limits) JoistNotch(depth, span, at, deep MM) Timber {
	switch {
	case depth > l.JoistDeepest:
		return Timber{Why: fmt.Sprintf("a joist deeper than %v is for an engineer", l.JoistDeepest)}
	case !inPart(at, span, l.NotchFrom, l.NotchTo):
		return Timber{Why: fmt.Sprintf("a joist is notched between %v and %v of its span from a bearing", l.NotchFrom, l.NotchTo)}
	case deep > share(l.NotchShare, depth) || deep > l.NotchMost:
		return Timber{Why: fmt.Sprintf("a notch is at most %v of the joist's depth and %v", l.NotchShare, l.NotchMost)}
	}
	return Timber{OK: true, Protect: true}
}

// HolesApart reports whether two holes in a joist, neither larger than larger,
// stand far enough apart, centre to centre: by the stricter of the two rules.
func (l *Limits) HolesApart(centres, larger MM) bool {
	return centres >= max(MM(l.HoleApart)*larger, larger+l.HoleBetween)
}

// StudHole judges a hole on the axis of a stud, whose depth is the wall's core.
// Where the stud carries load, its place along the stud counts as well.
func (l *Limits) StudHole(depth, length, at, diameter MM, bearing bool) Timber {
	switch {
	case diameter > share(l.StudShare, depth):
		return Timber{Why: fmt.Sprintf("a hole is at most %v of the stud's depth", l.StudShare)}
	case bearing && !inPart(at, length, l.StudFrom, l.StudTo):
		return Timber{Why: fmt.Sprintf("a stud that carries load is drilled between %v and %v of its length from an end", l.StudFrom, l.StudTo)}
	}
	return Timber{OK: true, Protect: depth-diameter < 2*l.Cover}
}

// Chase reports whether a chase may be cut so deep into masonry, up the wall or
// along it; leaf is the thickness of the wall, or of the leaf, without plaster.
func (l *Limits) Chase(leaf, deep MM, up bool) bool {
	if up {
		return deep <= share(l.ChaseVertical, leaf)
	}
	return deep <= share(l.ChaseHorizontal, leaf)
}
