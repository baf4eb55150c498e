package wiring

import (
	"fmt"
	"slices"

	"strapper/finding"
	"strapper/kit"
)

// MaxPositions is the greatest number of positions a switch may have.
const MaxPositions = 4

// Build derives the conditional graph of an installation. The findings say
// what contradicts itself (an end joined twice, a joint naming a terminal that
// does not exist); if any of them forbids, the graph is nil.
func Build(in *Installation) (*Graph, []finding.Finding) {
	b := &builder{g: &Graph{Inst: in, node: map[End]Node{}}, known: map[End]bool{}}
	b.names()
	b.boxes()
	b.cables()
	b.joints()
	if finding.Forbidden(b.findings) {
		return nil, b.findings
	}
	b.looseEnds()
	b.conductors()
	b.accessories()
	b.origins()
	return b.g, b.findings
}

type builder struct {
	g        *Graph
	known    map[End]bool // every end that exists
	order    []End        // the same in a fixed order
	findings []finding.Finding
}

func (b *builder) report(code string, at finding.Subject, fix, format string, args ...any) {
	b.findings = append(b.findings, finding.Finding{
		Code: code, Severity: finding.Forbids, Subject: at, Text: fmt.Sprintf(format, args...), Fix: fix,
	})
}

func (b *builder) exists(e End) {
	if !b.known[e] {
		b.known[e] = true
		b.order = append(b.order, e)
	}
}

// names reports two things that go by one name in the same place: their ends
// could not be told apart.
func (b *builder) names() {
	taken := map[[2]string]string{}
	claim := func(place, id, what string, at finding.Subject) {
		key := [2]string{place, id}
		if other, ok := taken[key]; ok {
			b.report("name-twice", at, "give one of them another name", "%s %q has the name of another %s%s", what, id, other, inBox(place))
		}
		taken[key] = what
	}
	in := b.g.Inst
	for _, box := range in.Boxes {
		claim("", box.ID, "box", finding.Subject("boxes."+box.ID))
		for _, f := range box.Fit {
			claim(box.ID, f.ID, "accessory", finding.Subject("boxes."+box.ID+"."+f.ID))
		}
	}
	for _, c := range in.Circuits {
		claim(c.Board, c.ID, "circuit", finding.Subject("circuits."+c.ID))
	}
	for _, c := range in.Cables {
		claim(c.From, c.ID, "cable", finding.Subject("cables."+c.ID))
		if c.To != c.From {
			claim(c.To, c.ID, "cable", finding.Subject("cables."+c.ID))
		}
	}
}

func inBox(box string) string {
	if box == "" {
		return ""
	}
	return " in box " + box
}

// boxes notes every terminal of every accessory and of every circuit's way.
func (b *builder) boxes() {
	for _, box := range b.g.Inst.Boxes {
		for _, f := range box.Fit {
			for _, t := range f.Kind.Terminals {
				b.exists(End{box.ID, f.ID, t.Name})
			}
			if len(f.Kind.Positions) > MaxPositions {
				b.report("too-many-positions", finding.Subject("boxes."+box.ID+"."+f.ID), "",
					"%s has %d positions; at most %d can be proved", f.Kind.Title, len(f.Kind.Positions), MaxPositions)
			}
		}
	}
	for _, c := range b.g.Inst.Circuits {
		if b.g.Inst.Box(c.Board) == nil {
			b.report("unknown-box", finding.Subject("circuits."+c.ID), "name the consumer unit's box", "circuit %s starts in box %q, which does not exist", c.ID, c.Board)
			continue
		}
		for _, t := range c.Way.Terminals {
			b.exists(End{c.Board, c.ID, t.Name})
		}
	}
}

func (b *builder) cables() {
	for _, c := range b.g.Inst.Cables {
		at := finding.Subject("cables." + c.ID)
		switch {
		case c.From == c.To:
			b.report("cable-to-itself", at, "give it two different boxes", "cable %s starts and ends in box %q", c.ID, c.From)
			continue
		case b.g.Inst.Box(c.From) == nil || b.g.Inst.Box(c.To) == nil:
			b.report("unknown-box", at, "add the box, or correct the name", "cable %s runs from %q to %q, and one of them is not a box", c.ID, c.From, c.To)
			continue
		case !(c.Routed && c.Length == 0) && (c.Length <= 0 || c.Tolerance < 0 || c.Tolerance > c.Length):
			b.report("impossible-length", at, "give a length above zero and a tolerance no greater than it", "cable %s is %v long, give or take %v", c.ID, c.Length, c.Tolerance)
			continue
		}
		for _, core := range c.Kind.Cores {
			b.exists(End{c.From, c.ID, core.Name})
			b.exists(End{c.To, c.ID, core.Name})
		}
	}
}

// joints makes a node of each joint and reports ends that do not exist or are
// joined twice.
func (b *builder) joints() {
	for _, j := range b.g.Inst.Joints {
		n := b.addNode(nil, false)
		for _, e := range j.Ends {
			switch _, taken := b.g.node[e]; {
			case e.Box != j.Box:
				b.report("joint-across-boxes", e.Subject(), "join it in the box where it ends", "%s ends in box %s and cannot be joined in box %s", e, e.Box, j.Box)
			case !b.known[e]:
				b.unknownEnd(e)
			case taken:
				b.report("joined-twice", e.Subject(), "put all the ends that meet there into one joint", "%s in box %s is in two joints", e, e.Box)
			default:
				b.g.node[e] = n
				b.g.members[n] = append(b.g.members[n], e)
			}
		}
		b.g.parked[n] = len(j.Ends) == 1 && b.isCore(j.Ends[0])
	}
}

func (b *builder) isCore(e End) bool {
	_, core := b.g.IsCore(e)
	return core != nil
}

// unknownEnd looks for what the person may have meant.
func (b *builder) unknownEnd(e End) {
	var items, names []string
	for _, k := range b.order {
		if k.Box != e.Box {
			continue
		}
		if !slices.Contains(items, k.Item) {
			items = append(items, k.Item)
		}
		if k.Item == e.Item {
			names = append(names, k.Name)
		}
	}
	if len(names) == 0 {
		fix := meant(e.Item, items)
		b.report("unknown-item", e.Subject(), fix, "nothing called %q is fitted or ends in box %q%s", e.Item, e.Box, listed(items))
		return
	}
	b.report("unknown-terminal", e.Subject(), meant(e.Name, names), "%q in box %q has no terminal or core called %q%s", e.Item, e.Box, e.Name, listed(names))
}

func meant(name string, candidates []string) string {
	if near := finding.Nearest(name, candidates); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return ""
}

func listed(names []string) string {
	if len(names) == 0 {
		return ""
	}
	text := "; there "
	if len(names) == 1 {
		text += "is only "
	} else {
		text += "are "
	}
	for i, n := range names {
		if i > 0 {
			text += ", "
		}
		text += n
	}
	return text
}

func (b *builder) addNode(members []End, loose bool) Node {
	g := b.g
	g.members = append(g.members, members)
	g.parked = append(g.parked, false)
	g.loose = append(g.loose, loose)
	return Node(len(g.members) - 1)
}

// looseEnds gives every end that no joint mentions a node of its own.
func (b *builder) looseEnds() {
	for _, e := range b.order {
		if _, ok := b.g.node[e]; !ok {
			b.g.node[e] = b.addNode([]End{e}, true)
		}
	}
}

func (b *builder) conductors() {
	for _, c := range b.g.Inst.Cables {
		for i := range c.Kind.Cores {
			core := &c.Kind.Cores[i]
			from, to := End{c.From, c.ID, core.Name}, End{c.To, c.ID, core.Name}
			b.g.Edges = append(b.g.Edges, Edge{
				Kind: Conductor, A: b.g.node[from], B: b.g.node[to], Ends: [2]End{from, to}, Cable: c, Core: core, Switch: -1, Rating: c.Kind.Rating,
			})
		}
	}
}

// accessories adds switches with their contacts, loads and coils.
func (b *builder) accessories() {
	for _, box := range b.g.Inst.Boxes {
		several := 0
		for _, f := range box.Fit {
			if len(f.Kind.Positions) > 1 {
				several++
			}
		}
		for _, f := range box.Fit {
			b.accessory(box, f, several > 1)
		}
	}
}

func (b *builder) accessory(box *Box, f *Fitted, several bool) {
	sw := -1
	if len(f.Kind.Positions) > 1 {
		name := box.ID
		if several {
			name += "." + f.ID
		}
		sw = len(b.g.Switches)
		b.g.Switches = append(b.g.Switches, Switch{Box: box, Item: f, Kind: f.Kind, name: name})
	}
	for _, c := range f.Kind.Contacts {
		b.contact(box, f, sw, c)
	}
	for _, l := range f.Kind.Loads {
		b.load(box, f, l)
	}
	if coil := f.Kind.Coil; coil != nil {
		ends := b.pair(box, f, coil.Between)
		b.g.Coils = append(b.g.Coils, Coil{A: b.g.node[ends[0]], B: b.g.node[ends[1]], Switch: sw, Power: coil.Power})
	}
}

func (b *builder) pair(box *Box, f *Fitted, names [2]string) [2]End {
	return [2]End{{box.ID, f.ID, names[0]}, {box.ID, f.ID, names[1]}}
}

func (b *builder) contact(box *Box, f *Fitted, sw int, c kit.Contact) {
	ends := b.pair(box, f, c.Join)
	e := Edge{Kind: Contact, A: b.g.node[ends[0]], B: b.g.node[ends[1]], Ends: ends, Switch: sw, Via: c.Via, Rating: f.Kind.Rating}
	for _, position := range c.In {
		e.In |= 1 << slices.Index(f.Kind.Positions, position)
	}
	if sw < 0 { // a kind with one position: joined for good
		e.Kind = Conductor
	}
	b.g.Edges = append(b.g.Edges, e)
}

func (b *builder) load(box *Box, f *Fitted, l kit.Load) {
	ends := b.pair(box, f, l.Between)
	load := Load{Box: box, Item: f, A: b.g.node[ends[0]], B: b.g.node[ends[1]], Ends: ends, Power: l.Power, Always: l.Always}
	load.Lamp = l.Kind
	if f.Lamp != nil && !l.Always {
		load.Lamp, load.Power = f.Lamp.Kind, f.Lamp.Power
	}
	b.g.Loads = append(b.g.Loads, load)
}

func (b *builder) origins() {
	for _, c := range b.g.Inst.Circuits {
		at := func(name string) Node { return b.g.node[End{c.Board, c.ID, name}] }
		b.g.Origins = append(b.g.Origins, Origin{Circuit: c, L: at("L"), N: at("N"), E: at("E")})
	}
}
