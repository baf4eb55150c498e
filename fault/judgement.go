package fault

import (
	"bytes"
	_ "embed" // the judgement
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"strapper/source"
	"strapper/unit"
)

//go:embed data/judgement.json
var judgementJSON []byte

// judgement is what no reading tells: how often kinds of fault are met, how
// often what is noted is wrong, and what a test costs.
type judgement struct {
	Source     source.Source        `json:"source"`
	Shares     map[Kind]float64     `json:"shares"` // of all single faults, in parts
	Double     float64              `json:"double"` // share of cases with two faults
	Other      float64              `json:"other_accessory"`
	Earth      float64              `json:"earth_core"`
	Wrong      map[SeenKind]float64 `json:"wrong"`
	Effort     map[SeenKind]float64 `json:"effort"`
	Certain    float64              `json:"certain"`
	Doubtful   float64              `json:"certain_against_evidence"`
	TripRisk   float64              `json:"trip_risk"`
	SoundRuns  float64              `json:"sound_runs"` // how much likelier runs are that give wiring which nothing forbids
	LooseOhm   unit.Ohm             `json:"loose_ohm"`
	LeakOhm    unit.Ohm             `json:"leak_ohm"`
	JoinedOhm  unit.Ohm             `json:"joined_ohm"`
	OpenOhm    unit.Ohm             `json:"open_ohm"`
	ShortOhm   unit.Ohm             `json:"short_ohm"`
	NoVolts    unit.Volt            `json:"no_volts"`
	MainsVolts unit.Volt            `json:"mains_volts"`
	Glow       float64              `json:"glow_at"` // share of the current at which a lamp is said to glow from which it may
	FineOhm    unit.Ohm             `json:"fine_ohm"`
}

// loadJudgement reads the embedded figures once.
var loadJudgement = sync.OnceValues(func() (*judgement, error) {
	d := json.NewDecoder(bytes.NewReader(judgementJSON))
	d.DisallowUnknownFields()
	j := new(judgement)
	if err := d.Decode(j); err != nil {
		return nil, fmt.Errorf("fault: data/judgement.json: %w", err)
	}
	if !j.Source.Authority.Valid() || j.Source.Cite == "" {
		return nil, fmt.Errorf("fault: data/judgement.json has no source")
	}
	return j, nil
})

// Figures lists the judgement that diagnosis rests on. It is empty only if the
// program's own data is broken, which [New] reports.
func Figures() []source.Figure {
	j, err := loadJudgement()
	if err != nil {
		return nil
	}
	var shares []string
	for k, s := range j.Shares {
		shares = append(shares, fmt.Sprintf("%s %g", k, s))
	}
	slices.Sort(shares)
	list := []source.Figure{{Name: "how often kinds of fault are met, in parts", Value: strings.Join(shares, ", "), Source: j.Source}}
	add := func(name, format string, args ...any) {
		list = append(list, source.Figure{Name: name, Value: fmt.Sprintf(format, args...), Source: j.Source})
	}
	add("share of cases with two faults", "%g", j.Double)
	add("chance that what the household reports is wrong", "%g", j.Wrong[report])
	add("chance that a reading is noted wrong", "%g", j.Wrong[SeenReading])
	add("a cause counts as certain from", "%g", j.Certain)
	add("a joint that makes poor contact", "%v", j.LooseOhm)
	add("damaged insulation", "%v", j.LeakOhm)
	add("a voltage counts as none below, and as the supply's from", "%v and %v", j.NoVolts, j.MainsVolts)
	add("two points count as joined up to, and as open from", "%v and %v", j.JoinedOhm, j.OpenOhm)
	return list
}
