package change

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"strapper/source"
	"strapper/unit"
)

// Weights says what disturbs how much, in minutes or minutes' worth of
// trouble. They are judgement, not measurement: a wall that is opened weighs
// what its making good and the household's patience are worth.
type Weights struct {
	WallOpened   float64 `json:"wall_opened"`   // each finished wall
	CableMetre   float64 `json:"cable_metre"`   // each metre of new cable, beside its run's own minutes
	BoxOpened    float64 `json:"box_opened"`    // each box found in which anything changes
	EndMoved     float64 `json:"end_moved"`     // each core end of a cable found that leaves its joint or comes into one
	EndNew       float64 `json:"end_new"`       // each live core end of a new cable
	Fitting      float64 `json:"fitting"`       // each switch exchanged, taken out or newly fitted
	JointNew     float64 `json:"joint_new"`     // each free connector with two cores or more that was not there
	JointHidden  float64 `json:"joint_hidden"`  // the same out of sight, in addition
	SpareUsed    float64 `json:"spare_used"`    // each core found that carried nothing and now does: it must be tested
	OldUsed      float64 `json:"old_used"`      // the same in a cable of before 2006, in addition
	DoubtfulUsed float64 `json:"doubtful_used"` // each core of a cable declared doubtful that carries another net than as found, in addition
	Sleeve       float64 `json:"sleeve"`        // each core whose colour does not say what it now carries

	Source source.Source `json:"source"`
}

//go:embed weights.json
var weightsText []byte

// Usual are the weights that apply unless others are given.
func Usual() Weights {
	var w Weights
	if err := json.Unmarshal(weightsText, &w); err != nil {
		panic("change: weights.json: " + err.Error()) // checked by a test
	}
	return w
}

// Effort is what a way costs, as counts, and their weighted sum.
type Effort struct {
	Walls         int             `json:"walls_opened"`
	Cable         unit.Millimetre `json:"new_cable_mm"`
	RunMinutes    float64         `json:"run_minutes"` // as stated with the runs taken
	Boxes         int             `json:"boxes_opened"`
	EndsMoved     int             `json:"ends_moved"`
	EndsNew       int             `json:"new_ends"`
	Fittings      int             `json:"switches_fitted_or_taken_out"`
	Joints        int             `json:"new_joints"`
	HiddenJoints  int             `json:"new_joints_out_of_sight"`
	SparesUsed    int             `json:"spare_cores_used"`
	OldUsed       int             `json:"old_spare_cores_used"`
	DoubtfulCores int             `json:"doubtful_cores_used"`
	Sleeves       int             `json:"cores_to_identify"`
	Minutes       float64         `json:"minutes"` // the weighted sum
}

// tenths turns minutes into the whole numbers that are minimised.
func tenths(minutes float64) int64 { return int64(minutes*10 + 0.5) }

// sum is the weighted sum in tenths of a minute.
func (e *Effort) sum(w *Weights) int64 {
	n := int64(e.Walls)*tenths(w.WallOpened) + tenths(e.RunMinutes) +
		int64(e.Boxes)*tenths(w.BoxOpened) + int64(e.EndsMoved)*tenths(w.EndMoved) + int64(e.EndsNew)*tenths(w.EndNew) +
		int64(e.Fittings)*tenths(w.Fitting) + int64(e.Joints)*tenths(w.JointNew) + int64(e.HiddenJoints)*tenths(w.JointHidden) +
		int64(e.SparesUsed)*tenths(w.SpareUsed) + int64(e.OldUsed)*tenths(w.OldUsed) +
		int64(e.DoubtfulCores)*tenths(w.DoubtfulUsed) + int64(e.Sleeves)*tenths(w.Sleeve)
	return n
}

// Figures lists the weights with their source.
func Figures() []source.Figure {
	w := Usual()
	var list []source.Figure
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"a finished wall opened", w.WallOpened},
		{"a metre of new cable, beside its run", w.CableMetre},
		{"a box opened", w.BoxOpened},
		{"a core end moved", w.EndMoved},
		{"a core end of a new cable landed", w.EndNew},
		{"a switch exchanged, fitted or taken out", w.Fitting},
		{"a new joint", w.JointNew},
		{"a new joint out of sight, in addition", w.JointHidden},
		{"a spare core brought into use", w.SpareUsed},
		{"a spare core of old cable brought into use, in addition", w.OldUsed},
		{"a core of a doubtful cable used anew, in addition", w.DoubtfulUsed},
		{"a core to be identified by sleeves", w.Sleeve},
	} {
		list = append(list, source.Figure{Name: "weight in the search for a change: " + f.name, Value: fmt.Sprintf("%g min", f.value), Source: w.Source})
	}
	return list
}

// String lists what there is of it in words: "72.4 min: 8.4 m of new cable, 1
// box opened, 2 ends moved, 1 switch fitted or taken out".
func (e Effort) String() string {
	var parts []string
	count := func(n int, one, many string) {
		switch {
		case n == 1:
			parts = append(parts, "1 "+one)
		case n > 1:
			parts = append(parts, strconv.Itoa(n)+" "+many)
		}
	}
	count(e.Walls, "wall cut", "walls cut")
	if e.Cable > 0 {
		parts = append(parts, e.Cable.String()+" of new cable")
	}
	count(e.Boxes, "box opened", "boxes opened")
	count(e.EndsMoved, "end moved", "ends moved")
	count(e.EndsNew, "end landed", "new ends landed")
	count(e.Fittings, "switch fitted or taken out", "switches fitted or taken out")
	count(e.Joints, "new joint", "new joints")
	count(e.HiddenJoints, "of them out of sight", "of them out of sight")
	count(e.SparesUsed, "spare core used", "spare cores used")
	count(e.DoubtfulCores, "doubtful core used", "doubtful cores used")
	count(e.Sleeves, "core to identify", "cores to identify")
	if len(parts) == 0 {
		parts = []string{"nothing to do"}
	}
	return fmt.Sprintf("%.1f min: %s", e.Minutes, strings.Join(parts, ", "))
}
