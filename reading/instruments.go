package reading

import (
	"bytes"
	_ "embed" // the instruments' figures
	"encoding/json"
	"fmt"
	"strconv"
	"sync"

	"strapper/source"
	"strapper/unit"
)

//go:embed data/instruments.json
var instrumentsJSON []byte

// instrument is what a tester adds to a true value: a share of the reading and
// a number of digits of its display.
type instrument struct {
	Title      string        `json:"title"`
	Accuracy   unit.Percent  `json:"accuracy_percent"`
	Digits     int           `json:"digits"`
	Resolution float64       `json:"resolution"` // of the display, in the base unit
	Range      unit.Ohm      `json:"range_ohm,omitempty"`
	Input      unit.Ohm      `json:"input_ohm,omitempty"`
	Source     source.Source `json:"source"`
}

// widen is the interval in which the display may lie if the truth lies in s.
func (in *instrument) widen(s sample) sample {
	if s.open {
		return s
	}
	digits := float64(in.Digits) * in.Resolution
	s.low = max(0, s.low*(1-in.Accuracy.Fraction())-digits)
	s.high = s.high*(1+in.Accuracy.Fraction()) + digits
	return s
}

type instruments struct {
	Ohmmeter       *instrument `json:"ohmmeter"`
	LoopTester     *instrument `json:"loop"`
	TwoPole        *instrument `json:"two_pole"`
	HighImpedance  *instrument `json:"high_impedance"`
	Insulation     insulation  `json:"insulation"`
	SupplyBand     supplyBand  `json:"supply"`
	CouplingSpread float64     `json:"coupling_spread"`

	CouplingSource source.Source `json:"coupling_source"`
	Working        unit.Celsius  `json:"working_celsius"`
	WorkingSource  source.Source `json:"working_source"`
}

type insulation struct {
	ReducedVolts unit.Volt     `json:"reduced_volts"`
	Expect       unit.Ohm      `json:"expect_ohm"`
	Source       source.Source `json:"source"`
	ExpectSource source.Source `json:"expect_source"`
}

type supplyBand struct {
	Plus   unit.Percent  `json:"plus_percent"`
	Minus  unit.Percent  `json:"minus_percent"`
	Source source.Source `json:"source"`
}

// loadInstruments reads the embedded figures once.
var loadInstruments = sync.OnceValues(func() (*instruments, error) {
	d := json.NewDecoder(bytes.NewReader(instrumentsJSON))
	d.DisallowUnknownFields()
	in := new(instruments)
	if err := d.Decode(in); err != nil {
		return nil, fmt.Errorf("reading: data/instruments.json: %w", err)
	}
	for _, f := range in.figures() {
		if !f.Source.Authority.Valid() || f.Source.Cite == "" {
			return nil, fmt.Errorf("reading: data/instruments.json: %s has no source", f.Name)
		}
	}
	return in, nil
})

func (in *instruments) figures() []source.Figure {
	var list []source.Figure
	add := func(name, value string, s source.Source) {
		list = append(list, source.Figure{Name: name, Value: value, Source: s})
	}
	for _, x := range []*instrument{in.Ohmmeter, in.LoopTester, in.TwoPole, in.HighImpedance} {
		value := fmt.Sprintf("± (%v + %d digits of %g)", x.Accuracy, x.Digits, x.Resolution)
		if x.Input > 0 {
			value += ", input " + x.Input.String()
		}
		add(x.Title, value, x.Source)
	}
	i := in.Insulation
	add("insulation test where equipment would affect it", i.ReducedVolts.String()+" DC", i.Source)
	add("insulation of a sound lighting circuit", "over "+i.Expect.String(), i.ExpectSource)
	add("supply voltage band", fmt.Sprintf("+%v, -%v", in.SupplyBand.Plus, in.SupplyBand.Minus), in.SupplyBand.Source)
	add("spread of coupling between cores", factor(in.CouplingSpread)+" either way", in.CouplingSource)
	add("working temperature of conductors", in.Working.String(), in.WorkingSource)
	return list
}

func factor(f float64) string { return "factor " + strconv.FormatFloat(f, 'g', -1, 64) }

// Figures lists the numbers that predictions rest on beside those of the
// catalogue and of package wiring. It is empty only if the program's own data
// is broken, which Predict reports.
func Figures() []source.Figure {
	in, err := loadInstruments()
	if err != nil {
		return nil
	}
	return in.figures()
}

// Ohmmeter is what a low-resistance ohmmeter with its leads nulled may show
// where the resistance lies in a band: wider by its accuracy.
func Ohmmeter(truth Band[unit.Ohm]) (Band[unit.Ohm], error) {
	in, err := loadInstruments()
	if err != nil {
		return truth, err
	}
	s := in.Ohmmeter.widen(sample{low: float64(truth.Low), nom: float64(truth.Nominal), high: float64(truth.High)})
	return Band[unit.Ohm]{unit.Ohm(s.low), unit.Ohm(s.nom), unit.Ohm(s.high)}, nil
}
