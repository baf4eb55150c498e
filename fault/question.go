package fault

import (
	"cmp"
	"slices"

	"strapper/internal/diagnose"
	"strapper/kit"
	"strapper/wiring"
)

// A test is a question that can be put to the installation.
type test struct {
	Seen  // without an outcome
	watch watch
	boxes []string // that must be open
	lead  bool     // a long lead is needed
}

// questionPool is every test of an installation, made once.
type questionPool struct {
	tests []test
	made  bool
	rows  [][]int8 // predictions by hypothesis, of no fault and single ones, once they are worked out
}

// mostTestStates is the number of positions in which tests are offered.
const mostTestStates = 16

// tests lists every test that may be offered: operating lamps, readings within
// a box and from the board, insulation, looks, and cables tested alone.
func (f *Finder) tests() []test {
	if f.pool.made {
		return f.pool.tests
	}
	f.pool.made = true
	b := &pooling{f: f, settings: f.settings()}
	b.operating()
	for _, box := range f.g.Inst.Boxes {
		b.look(box.ID)
		b.within(box.ID)
	}
	b.fromBoard()
	b.alongCores()
	b.insulation()
	b.alone()
	f.pool.tests = b.list
	return b.list
}

// settings lists the positions of the switches that a person sets, as With
// names them: all of them, or of many those next to all at rest and all moved.
func (f *Finder) settings() []map[string]string {
	states := slices.Clone(f.k.states)
	if len(states) > mostTestStates {
		slices.SortStableFunc(states, func(a, b wiring.State) int { return cmp.Compare(f.apart(a), f.apart(b)) })
	}
	var list []map[string]string
	done := map[string]bool{}
	for _, s := range states {
		key, with := "", map[string]string{}
		held := 0
		for _, sw := range f.k.settable {
			key += string(rune(s[sw]))
			with[f.g.Switches[sw].ID()] = f.g.Position(s, sw)
			if f.g.Switches[sw].Kind.Actuator == kit.ByPush && s[sw] != 0 {
				held++
			}
		}
		if !done[key] && held < 2 && len(list) < mostTestStates {
			done[key] = true
			list = append(list, with)
		}
	}
	return list
}

// apart is how many switches must be moved to have all of them moved or none.
func (f *Finder) apart(s wiring.State) int {
	moved := 0
	for _, sw := range f.k.settable {
		if s[sw] != 0 {
			moved++
		}
	}
	return min(moved, len(f.k.settable)-moved)
}

type pooling struct {
	f        *Finder
	settings []map[string]string
	list     []test
}

// add makes a test ready; one that cannot be made is left out.
func (b *pooling) add(t test) {
	w, err := b.f.k.watch(&t.Seen)
	if err == nil {
		t.watch = w
		b.list = append(b.list, t)
	}
}

// everywhere adds a test in every setting.
func (b *pooling) everywhere(t test) {
	for _, with := range b.settings {
		t.With = with
		b.add(t)
	}
}

func (b *pooling) operating() {
	for _, l := range b.f.k.loads {
		if !l.always {
			b.everywhere(test{Seen: Seen{Kind: SeenLamp, Of: b.f.g.Loads[l.index].ID()}})
		}
	}
}

func (b *pooling) look(box string) {
	b.add(test{Seen: Seen{Kind: SeenLook, Of: box}, boxes: []string{box}})
}

// within adds the readings in one box: each core with what should hold it, and
// the joints with one another.
func (b *pooling) within(box string) {
	list := places(b.f.g, box)
	for i := range list {
		for _, e := range list[i].cores {
			if e != list[i].first {
				b.add(test{Seen: Seen{Kind: SeenReading, Between: [2]wiring.End{list[i].first, e}}, boxes: []string{box}})
			}
		}
		for k := i + 1; k < len(list); k++ {
			b.everywhere(test{Seen: Seen{Kind: SeenReading, Between: [2]wiring.End{list[i].first, list[k].first}}, boxes: []string{box}})
		}
	}
}

// fromBoard adds the readings with a long lead from a circuit's terminals.
func (b *pooling) fromBoard() {
	for _, o := range b.f.g.Origins {
		board := o.Circuit.Board
		for _, box := range b.f.g.Inst.Boxes {
			if box.ID == board {
				continue
			}
			for _, p := range places(b.f.g, box.ID) {
				for _, name := range []string{"L", "N", "E"} {
					from := wiring.End{Box: board, Item: o.Circuit.ID, Name: name}
					b.everywhere(test{Seen: Seen{Kind: SeenReading, Between: [2]wiring.End{from, p.first}}, boxes: []string{board, box.ID}, lead: true})
				}
			}
		}
	}
}

// alongCores adds the reading of each core from end to end.
func (b *pooling) alongCores() {
	for _, c := range b.f.g.Inst.Cables {
		for _, core := range c.Kind.Cores {
			between := [2]wiring.End{{Box: c.From, Item: c.ID, Name: core.Name}, {Box: c.To, Item: c.ID, Name: core.Name}}
			b.add(test{Seen: Seen{Kind: SeenReading, Between: between}, boxes: []string{c.From, c.To}, lead: true})
		}
	}
}

func (b *pooling) insulation() {
	for _, o := range b.f.g.Origins {
		board := o.Circuit.Board
		end := func(name string) wiring.End { return wiring.End{Box: board, Item: o.Circuit.ID, Name: name} }
		for _, pair := range [3][2]string{{"L", "N"}, {"L", "E"}, {"N", "E"}} {
			b.everywhere(test{Seen: Seen{Kind: SeenInsulation, Between: [2]wiring.End{end(pair[0]), end(pair[1])}}, boxes: []string{board}})
		}
	}
	for _, box := range b.f.g.Inst.Boxes {
		list := places(b.f.g, box.ID)
		for i := range list {
			for k := i + 1; k < len(list); k++ {
				b.everywhere(test{Seen: Seen{Kind: SeenInsulation, Between: [2]wiring.End{list[i].first, list[k].first}}, boxes: []string{box.ID}})
			}
		}
	}
}

func (b *pooling) alone() {
	for _, c := range b.f.g.Inst.Cables {
		b.add(test{Seen: Seen{Kind: SeenAlone, Of: c.ID}, boxes: []string{c.From, c.To}})
	}
	for _, l := range b.f.k.loads {
		if load := &b.f.g.Loads[l.index]; !l.always {
			b.add(test{Seen: Seen{Kind: SeenAlone, Of: load.ID()}, boxes: []string{load.Box.ID}})
		}
	}
}

// questions predicts every test under the hypotheses of a list.
func (f *Finder) questions(list []int) diagnose.Questions {
	tests := f.tests()
	if f.pool.rows == nil {
		f.pool.rows = make([][]int8, 1+len(f.faults))
	}
	return f.predictions(tests, list, func(h int) []int8 {
		switch {
		case h >= len(f.pool.rows):
			return f.row(tests, h)
		case f.pool.rows[h] == nil:
			f.pool.rows[h] = f.row(tests, h)
		}
		return f.pool.rows[h]
	})
}

// row predicts tests under one hypothesis.
func (f *Finder) row(tests []test, h int) []int8 {
	f.take(h, f.s)
	row := make([]int8, len(tests))
	for i := range tests {
		row[i] = f.s.predict(&tests[i].watch)
	}
	return row
}

// predictions makes questions of tests and of what hypotheses predict.
func (f *Finder) predictions(tests []test, list []int, row func(h int) []int8) diagnose.Questions {
	qs := make(diagnose.Questions, len(tests))
	cells := make([]int8, len(tests)*len(list))
	for i := range tests {
		qs[i] = diagnose.Question{
			Outcomes: len(words[tests[i].Kind]), Wrong: tests[i].doubt(f.j), Effort: f.effort(&tests[i]),
			Predict: cells[i*len(list) : (i+1)*len(list)],
		}
	}
	for n, h := range list {
		for i, k := range row(h) {
			qs[i].Predict[n] = k
		}
	}
	return qs
}

// effort is what a test costs now: a box that was opened before stays open.
func (f *Finder) effort(t *test) float64 {
	e := f.j.Effort[t.Kind]
	for _, box := range t.boxes {
		if !f.opened(box) {
			e += f.j.Effort["open"]
		}
	}
	if t.lead {
		e += f.j.Effort["lead"]
	}
	return e
}

func (f *Finder) opened(box string) bool {
	return slices.ContainsFunc(f.seen, func(x Seen) bool { return x.opens(box) })
}

// opens reports whether a box was open for an observation.
func (x *Seen) opens(box string) bool {
	switch x.Kind {
	case SeenLook:
		return x.Of == box
	case SeenReading, SeenInsulation, SeenVolts:
		return x.Between[0].Box == box || x.Between[1].Box == box
	}
	return false
}
