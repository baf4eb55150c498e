// Package iec is a book built only from openly stated physics and figures of
// the International Electrotechnical Commission: conductor resistances of IEC
// 60228, the principles of IEC 60364 (a device must see enough current to
// disconnect, a conductor must not get hotter than its insulation stands),
// trip bands of IEC 60898-1, instrument limits of IEC 61557.
//
// It answers what can be said where no national book is at hand: loop
// impedance from the trip band, voltage drop from the conductor, k from the
// material. It has no current ratings, as those are tables that were not read:
// what needs them is not assessed.
//
// National standards follow the same principles, so the checks of this book
// are functions that theirs list under clauses of their own.
package iec

import (
	"embed"
	"fmt"
	"io/fs"
	"math"
	"path"
	"strings"
	"sync"

	"strapper/rules"
	"strapper/source"
)

//go:embed tables/*.csv
var files embed.FS

// Tables reads the tables of a folder, those named or all, in the order of
// their names. Books of other documents that refer to a table of this one use
// it too.
func Tables(files fs.FS, folder string, only ...string) ([]*rules.Table, error) {
	entries, err := fs.ReadDir(files, folder)
	if err != nil {
		return nil, fmt.Errorf("rules: %w", err)
	}
	var list []*rules.Table
	for _, e := range entries {
		name := strings.TrimSuffix(e.Name(), ".csv")
		if len(only) > 0 && !strings.Contains(" "+strings.Join(only, " ")+" ", " "+name+" ") {
			continue
		}
		text, err := fs.ReadFile(files, path.Join(folder, e.Name()))
		if err != nil {
			return nil, fmt.Errorf("rules: %w", err)
		}
		t, err := rules.ParseTable(path.Join(folder, e.Name()), string(text))
		if err != nil {
			return nil, err
		}
		list = append(list, t)
	}
	return list, nil
}

// Shared are the tables of IEC standards that national books refer to.
func Shared() ([]*rules.Table, error) {
	return Tables(files, "tables", "60228", "60898-most", "60898-least", "61557-uncertainty")
}

// Open reads the book. It is made once; an error is a fault of the program's
// own data.
var Open = sync.OnceValues(func() (*rules.Book, error) {
	tables, err := Tables(files, "tables")
	if err != nil {
		return nil, err
	}
	return rules.New(rules.Book{
		ID: "iec", Document: "IEC 60364", Edition: "",
		Title:  "International principles and open physics, without any country's tables",
		Scope:  "where no national book is at hand; the rules of the country govern",
		Tables: tables, Checks: checks(),
	}, map[string]rules.Formula{
		string(rules.Drop): drop, string(rules.MaxZs): maxZs, string(rules.WarmFactor): warm,
		string(rules.Adiabatic): adiabatic, string(rules.ResidualZs): residualZs,
	})
})

const (
	cmin         = rules.Question[rules.Factor]("cmin")
	conductors   = rules.Question[rules.Factor]("conductors")
	warmRho      = rules.Question[rules.Factor]("warm-resistivity")
	copperBeta   = rules.Question[rules.Factor]("copper-beta")
	copperK      = rules.Question[rules.Factor]("copper-k")
	volts        = 230.0 // the nominal voltage that the answers are for (IEC 60038)
	missingTrail = "the %s is not known"
)

// gather asks for several values and joins their trails.
func gather(b *rules.Book, questions ...rules.Question[rules.Factor]) ([]float64, rules.Trail) {
	values := make([]float64, len(questions))
	all := rules.Trail{Found: true}
	for i, q := range questions {
		a := rules.Ask(b, q)
		if !a.Found {
			return nil, a.Trail
		}
		values[i] = float64(a.Value)
		all.Cells = append(all.Cells, a.Cells...)
	}
	return values, all
}

// drop is b ρ1 / S, Ω/m: IEC 60364-5-52 Annex G with the reactance of small
// conductors left out.
func drop(b *rules.Book, keys []rules.Key) (float64, rules.Trail) {
	area, ok := rules.KeyValue(keys, "area")
	if !ok {
		return 0, rules.Trail{Why: fmt.Sprintf(missingTrail, "conductor size")}
	}
	v, t := gather(b, conductors, warmRho)
	if !t.Found {
		return 0, t
	}
	r := v[0] * v[1] / area
	t.Working = fmt.Sprintf("voltage drop: %g × %g / %g mm² = %.4g mV/A/m", v[0], v[1], area, r*1000)
	return r, t
}

// maxZs is Cmin U0 / (n In), n the upper end of the breaker's trip band. A fuse
// has no such band here.
func maxZs(b *rules.Book, keys []rules.Key) (float64, rules.Trail) {
	rated, ok := rules.KeyValue(keys, "rated")
	curve := rules.KeyText(keys, "curve")
	if !ok || curve == "" {
		return 0, rules.Trail{Why: fmt.Sprintf(missingTrail, "device")}
	}
	trip := rules.Ask(b, rules.TripMost, rules.Curve(curve))
	if !trip.Found {
		return 0, trip.Trail
	}
	c, t := gather(b, cmin)
	if !t.Found {
		return 0, t
	}
	z := c[0] * volts / (float64(trip.Value) * rated)
	t.Cells = append(t.Cells, trip.Cells...)
	t.Working = fmt.Sprintf("greatest Zs: %g × %g V / (%g × %g A) = %.4g Ω", c[0], volts, float64(trip.Value), rated, z)
	return z, t
}

// temperatures of conductors in °C: working and short-circuit limit by
// insulation (IEC 60364-4-43 and 5-54, from memory, to be confirmed).
var temperatures = map[string][2]float64{
	rules.Thermoplastic70: {70, 160}, rules.Thermosetting90: {90, 250}, rules.Thermoplastic90: {90, 160}, rules.Rubber60: {60, 200},
}

// separateStart is the temperature at which a protective conductor that runs
// by itself starts (IEC 60364-5-54 Table A.54.2, from memory, to be confirmed).
const separateStart = 30

// warm is 1 + α (t - 20).
func warm(b *rules.Book, keys []rules.Key) (float64, rules.Trail) {
	limits, ok := temperatures[rules.KeyText(keys, "insulation")]
	if !ok {
		return 0, rules.Trail{Why: fmt.Sprintf(missingTrail, "insulation of the conductor")}
	}
	at := limits[0]
	if rules.KeyText(keys, "cpc") == rules.Separate {
		at = separateStart
	}
	alpha := rules.Ask(b, rules.TemperatureCoefficient)
	if !alpha.Found {
		return 0, alpha.Trail
	}
	f := 1 + float64(alpha.Value)*(at-20)
	return f, rules.Trail{Found: true, Cells: alpha.Cells, Working: fmt.Sprintf("from 20 °C to %g °C: 1 + %g × %g = %.3g", at, float64(alpha.Value), at-20, f)}
}

// adiabatic is k = K √ln((β + θf)/(β + θi)).
func adiabatic(b *rules.Book, keys []rules.Key) (float64, rules.Trail) {
	limits, ok := temperatures[rules.KeyText(keys, "insulation")]
	if !ok {
		return 0, rules.Trail{Why: fmt.Sprintf(missingTrail, "insulation of the conductor")}
	}
	from := limits[0]
	if rules.KeyText(keys, "cpc") == rules.Separate {
		from = separateStart
	}
	v, t := gather(b, copperK, copperBeta)
	if !t.Found {
		return 0, t
	}
	k := v[0] * math.Sqrt(math.Log((v[1]+limits[1])/(v[1]+from)))
	t.Working = fmt.Sprintf("k = %g √ln((%g + %g)/(%g + %g)) = %.1f", v[0], v[1], limits[1], v[1], from, k)
	return k, t
}

// residualZs is the touch voltage over the residual current.
func residualZs(b *rules.Book, keys []rules.Key) (float64, rules.Trail) {
	i, ok := rules.KeyValue(keys, "residual")
	if !ok {
		return 0, rules.Trail{Why: fmt.Sprintf(missingTrail, "residual current")}
	}
	u := rules.Ask(b, rules.TouchVoltage)
	if !u.Found {
		return 0, u.Trail
	}
	z := float64(u.Value) / i
	return z, rules.Trail{Found: true, Cells: u.Cells, Working: fmt.Sprintf("greatest Zs with the RCD: %g V / %g A = %.4g Ω", float64(u.Value), i, z)}
}

func memory(cite string) source.Source {
	return source.Source{Authority: source.Memory, Cite: cite, Note: "the clause was not read; to be confirmed"}
}

// checks are the book's own list.
func checks() []rules.Check {
	p41 := func(clause string) rules.Citation {
		return rules.Citation{Document: "IEC 60364-4-41", Edition: "2005+A1:2017", Clause: clause}
	}
	p43 := func(clause string) rules.Citation {
		return rules.Citation{Document: "IEC 60364-4-43", Edition: "2008", Clause: clause}
	}
	return []rules.Check{
		{ID: "design-current", Of: p43("433.1"), Title: "Device carries the load", Explain: ExplainDesign, Source: memory("IEC 60364-4-43 433.1"), Circuit: DesignCurrent},
		{ID: "device-cable", Of: p43("433.1"), Title: "Device protects the cable", Explain: ExplainCable, Source: memory("IEC 60364-4-43 433.1"), Circuit: DeviceCable},
		{ID: "breaking", Of: p43("434.5.1"), Title: "Device can break the fault", Explain: ExplainBreaking, Source: memory("IEC 60364-4-43 434.5.1"), Circuit: Breaking},
		{ID: "adiabatic-line", Of: p43("434.5.2"), Title: "Line survives the fault", Explain: ExplainHeat, Source: memory("IEC 60364-4-43 434.5.2"), Circuit: HeatLine},
		{ID: "adiabatic-cpc", Of: rules.Citation{Document: "IEC 60364-5-54", Edition: "2011", Clause: "543.1.2"}, Title: "Protective conductor survives the fault", Explain: ExplainHeat, Source: memory("IEC 60364-5-54 543.1.2"), Circuit: HeatEarth},
		{ID: "disconnection", Of: p41("411.4.4"), Title: "Earth fault disconnected in time", Explain: ExplainLoop, Source: memory("IEC 60364-4-41 411.4.4"), Circuit: Disconnection},
		{ID: "device-alone", Of: p41("411.4.5"), Title: "Device disconnects by itself", Explain: ExplainAlone, Source: memory("IEC 60364-4-41 411.4.5"), Circuit: DeviceAlone},
		{ID: "tt-rcd", Of: p41("411.5.3"), Title: "RCD on a TT supply", Explain: ExplainTT, Source: memory("IEC 60364-4-41 411.5.3"), Circuit: Electrode},
		{ID: "rcd-luminaires", Of: p41("411.3.4"), Title: "RCD for lighting in a dwelling", Explain: ExplainLuminaires, Source: memory("IEC 60364-4-41:2005+A1:2017 411.3.4"), Circuit: Luminaires},
		{ID: "volt-drop", Of: rules.Citation{Document: "IEC 60364-5-52", Edition: "2009", Clause: "525, Table G.52.1"}, Title: "Voltage at the farthest lamp", Explain: ExplainDrop, Source: source.Source{Authority: source.Published, Cite: "Table G.52.1 as reprinted by cabledatasheet.com"}, Circuit: Drop},
		{ID: "point-cpc", Of: p41("411.3.1.1"), Title: "Protective conductor at the point", Explain: ExplainEarth, Source: memory("IEC 60364-4-41 411.3.1.1"), Point: PointEarth},
		{ID: "measured-continuity", Of: rules.Citation{Document: "IEC 60364-6", Edition: "2016", Clause: "6.4.3.2"}, Title: "Continuity", Explain: ExplainContinuity, Source: memory("IEC 60364-6 6.4.3.2"), Reading: Continuity},
		{ID: "measured-insulation", Of: rules.Citation{Document: "IEC 60364-6", Edition: "2016", Clause: "6.4.3.3"}, Title: "Insulation resistance", Explain: ExplainInsulation, Source: memory("IEC 60364-6 6.4.3.3"), Reading: Insulation},
		{ID: "measured-zs", Of: p41("411.4.4"), Title: "Loop impedance measured", Explain: ExplainMeasuredZs, Source: memory("IEC 60364-4-41 411.4.4"), Reading: LoopWarm},
		{ID: "rcd-time", Of: rules.Citation{Document: "IEC 61008-1", Edition: "2010", Clause: "Table 1"}, Title: "RCD trip time", Explain: ExplainTrip, Source: memory("IEC 61008-1 Table 1"), Reading: TripTime},
		{ID: "measured-fault", Of: p43("434.5.1"), Title: "Fault current measured", Explain: ExplainBreaking, Source: memory("IEC 60364-4-43 434.5.1"), Reading: FaultMeasured},
	}
}
