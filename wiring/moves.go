package wiring

import (
	"slices"
	"strconv"

	"strapper/kit"
)

// MoveKind is what a person does in one step.
type MoveKind string

// The kinds of move, in the order in which they are done in a box.
const (
	Mark       MoveKind = "mark"             // label an end before anything is taken off
	TakeOff    MoveKind = "take off"         // a core end, out of its terminal or connector
	Unlink     MoveKind = "take out link"    // between two terminals
	Remove     MoveKind = "remove accessory" //
	Withdraw   MoveKind = "withdraw cable"   // its end, out of this box
	RemoveBox  MoveKind = "remove box"       //
	FitBox     MoveKind = "fit box"          //
	BringIn    MoveKind = "bring in cable"   // its end, into this box
	Fit        MoveKind = "fit accessory"    //
	ChangeLamp MoveKind = "change lamp"      //
	Open       MoveKind = "open"             // a terminal or connector that keeps what is in it and gains more
	Sleeve     MoveKind = "sleeve"           // before the end is landed
	Land       MoveKind = "land"             // a core end in a terminal
	Link       MoveKind = "link"             // two terminals
	Join       MoveKind = "join"             // core ends in a connector
	Park       MoveKind = "park"             // a core end on its own
	Check      MoveKind = "check sleeve"     // of an end that stays where it is
	Cover      MoveKind = "fit blank plate"  // over a box that is left without an accessory
)

// Move is one step. The fields say exactly what changes, so that carrying out
// the moves in order turns the joints as found into the joints as left; Text
// says the same to a person.
type Move struct {
	Kind   MoveKind
	Item   string // accessory, circuit's way or cable it is about; "" if about ends or the box
	Ends   []End  // the ends that change, or that are marked, sleeved or checked
	With   []End  // Open, Land, Link, Join: what is there already; Unlink: what the link ran to
	From   string // where it was, in words
	To     string // where it goes, in words
	Sleeve string // Sleeve, Check: "brown sleeve"
	Text   string // the whole step as a sentence
}

// BoxMoves is what is done in one box, with the power off.
type BoxMoves struct {
	Box   *Box // as left; as found if it goes
	New   bool // the box is not there as found
	Gone  bool // the box is not there as left
	Moves []Move
}

// Moves derives the steps from the wiring as found to the wiring as left. Boxes
// stand in the order of the installation as left, then those that go; a box in
// which nothing changes has no entry.
//
// As little as possible is touched: joints as found and as left are paired so
// that the greatest number of ends stay where they are, terminals before
// cores, since a terminal cannot follow a core. What is clamped in an accessory
// that is replaced, or stands in a box that is replaced, is always touched.
//
// marks gives the sleeve that identifies a core end as left ("brown sleeve"),
// or "" if it needs none; nil asks for no sleeves. Sleeves that a box without
// other moves might need are not looked for.
func Moves(found, left *Graph, marks func(End) string) []BoxMoves {
	if found == nil || left == nil {
		return nil
	}
	if marks == nil {
		marks = func(End) string { return "" }
	}
	var list []BoxMoves
	add := func(b *Box) {
		m := newMover(found, left, b.ID, marks)
		if m.plan(); len(m.moves) > 0 {
			list = append(list, BoxMoves{Box: b, New: m.boxFound == nil, Gone: m.boxLeft == nil, Moves: m.moves})
		}
	}
	for _, b := range left.Inst.Boxes {
		add(b)
	}
	for _, b := range found.Inst.Boxes {
		if left.Inst.Box(b.ID) == nil {
			add(b)
		}
	}
	return list
}

// A mover plans the moves of one box.
type mover struct {
	found, left       *Graph
	box               string
	boxFound, boxLeft *Box // nil if not there
	itemsFound        []item
	itemsLeft         []item
	before, after     []meeting
	origin            []int // by joint as left: the joint as found it is made of, or -1
	destination       []int // by joint as found: the joint as left it becomes, or -1
	marks             func(End) string
	moves, marked     []Move
}

func newMover(found, left *Graph, box string, marks func(End) string) *mover {
	m := &mover{
		found: found, left: left, box: box, marks: marks,
		boxFound: found.Inst.Box(box), boxLeft: left.Inst.Box(box),
		itemsFound: itemsOf(found.Inst, box), itemsLeft: itemsOf(left.Inst, box),
		before: found.meetings(box), after: left.meetings(box),
	}
	m.origin = assign(len(m.before), len(m.after), func(f, l int) int {
		if !m.boxStays() {
			return 0
		}
		return overlap(&m.before[f], &m.after[l], m.stays)
	})
	m.destination = slices.Repeat([]int{-1}, len(m.before))
	for l, f := range m.origin {
		if f >= 0 {
			m.destination[f] = l
		}
	}
	return m
}

// plan makes the list in the order in which the work is done.
func (m *mover) plan() {
	m.takeOff()
	m.takeOut()
	m.bringIn()
	m.land()
	m.moves = slices.Concat(m.marked, m.moves)
	if len(m.moves) > 0 {
		m.checkSleeves()
		m.cover()
	}
}

// cover closes a box that takes plates and is left, or is new, without an
// accessory.
func (m *mover) cover() {
	b := m.boxLeft
	if b == nil || b.Kind == nil || b.Kind.Gangs < 1 || len(b.Fit) > 0 || m.boxStays() && len(m.boxFound.Fit) == 0 {
		return
	}
	m.add(Move{Kind: Cover, Text: "Close the box with a blank plate."})
}

func (m *mover) add(move Move) { m.moves = append(m.moves, move) }

func (m *mover) boxStays() bool {
	return m.boxFound != nil && m.boxLeft != nil && sameKind(m.boxFound.Kind, m.boxLeft.Kind)
}

func sameKind(a, b *kit.Box) bool { return a == b || a != nil && b != nil && a.ID == b.ID }

// stays reports whether the thing that an end belongs to is the same one as
// found and as left.
func (m *mover) stays(e End) bool {
	if m.cable(m.found, e.Item) != nil || m.cable(m.left, e.Item) != nil {
		return m.cableStays(e.Item)
	}
	return m.itemStays(e.Item)
}

func (m *mover) cable(g *Graph, id string) *Cable {
	if c := g.Inst.Cable(id); c != nil && (c.From == m.box || c.To == m.box) {
		return c
	}
	return nil
}

func (m *mover) cableStays(id string) bool {
	f, l := m.found.Inst.Cable(id), m.left.Inst.Cable(id)
	return f != nil && l != nil && SameCable(f, l)
}

// SameCable reports whether two cables, one as found and one as left, are the
// same piece: of the same kind between the same boxes. Its length as left may
// be known better.
func SameCable(found, left *Cable) bool {
	same := found.From == left.From && found.To == left.To
	turned := found.From == left.To && found.To == left.From
	return found.Kind.ID == left.Kind.ID && (same || turned)
}

func (m *mover) itemStays(id string) bool {
	f, l := find(m.itemsFound, id), find(m.itemsLeft, id)
	return m.boxStays() && f != nil && l != nil && f.same(l)
}

func find(items []item, id string) *item {
	for i := range items {
		if items[i].id == id {
			return &items[i]
		}
	}
	return nil
}

// same reports whether an item is the same piece. A way is another one when
// its protective device is another.
func (it *item) same(other *item) bool {
	if (it.circuit == nil) != (other.circuit == nil) || it.kind.ID != other.kind.ID {
		return false
	}
	if it.circuit == nil {
		return true
	}
	f, l := it.circuit.Device, other.circuit.Device
	return f == l || f != nil && l != nil && f.ID == l.ID
}

// inPlace reports whether an end of a joint as left is there already.
func (m *mover) inPlace(l int, e End) bool {
	f := m.origin[l]
	return f >= 0 && m.stays(e) && m.before[f].has(e)
}

// takeOff empties the joints as found of every end that does not stay in them.
func (m *mover) takeOff() {
	for f := range m.before {
		j := &m.before[f]
		stay := func(e End) bool {
			l := m.destination[f]
			return l >= 0 && m.after[l].has(e) && m.stays(e)
		}
		for _, e := range j.cores {
			if !stay(e) {
				m.takeOffCore(e)
			}
		}
		m.unlink(j, stay)
	}
}

func (m *mover) takeOffCore(e End) {
	name, from, to := m.found.EndName(e), m.found.Where(e), "out of the box, with its cable"
	if m.stays(e) {
		to = m.left.Where(e)
		m.marked = append(m.marked, Move{
			Kind: Mark, Ends: []End{e}, From: from, To: to,
			Text: "Label " + name + ": it is in " + from + " and " + goes(from, to) + ".",
		})
	}
	m.add(Move{Kind: TakeOff, Ends: []End{e}, From: from, To: to, Text: "Take " + name + " out of " + from + "."})
}

// goes turns a place into the end of a sentence.
func goes(from, to string) string {
	switch to {
	case from:
		return "goes back to " + to
	case nowhere:
		return "will be " + to
	}
	return "goes to " + to
}

// unlink takes the links out of a joint of several terminals. Those that stay
// joined keep theirs; if none does, all but the first are parted from it.
func (m *mover) unlink(j *meeting, stay func(End) bool) {
	anchor := slices.IndexFunc(j.terminals, stay)
	for i, e := range j.terminals {
		if i == max(anchor, 0) || stay(e) {
			continue
		}
		from := j.terminals[max(anchor, 0)]
		m.add(Move{
			Kind: Unlink, Ends: []End{e}, With: []End{from}, From: "linked to " + m.found.EndName(from),
			Text: "Take out the link between " + m.found.EndName(e) + " and " + m.found.EndName(from) + m.staying(j, from, stay) + ".",
		})
	}
}

// staying says which cores stay with a terminal when a link is taken out: of
// linked terminals it is not known in which a core is clamped.
func (m *mover) staying(j *meeting, at End, stay func(End) bool) string {
	var list []End
	for _, e := range j.cores {
		if stay(e) {
			list = append(list, e)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return ", keeping " + m.found.listEnds(list, " and ") + " in " + m.found.EndName(at)
}

// takeOut removes accessories, cables and the box itself.
func (m *mover) takeOut() {
	for _, it := range m.itemsFound {
		if m.itemStays(it.id) {
			continue
		}
		text := "Remove " + called(it) + "."
		if again := find(m.itemsLeft, it.id); again != nil && it.same(again) {
			text = "Take out " + called(it) + " and keep it: it is fitted again."
		}
		m.add(Move{Kind: Remove, Item: it.id, Text: text})
	}
	for _, c := range m.found.Inst.Cables {
		if m.cable(m.found, c.ID) != nil && !m.cableStays(c.ID) {
			far := otherEnd(m.found, c, m.box)
			m.add(Move{
				Kind: Withdraw, Item: c.ID, From: far,
				Text: "Withdraw cable " + c.ID + " (" + c.Kind.Title + ", from " + far + "). If it cannot be drawn out, leave it disconnected at both ends, every core in a connector, and label it disused.",
			})
		}
	}
	if m.boxFound != nil && !m.boxStays() {
		m.add(Move{Kind: RemoveBox, From: m.boxFound.Kind.Title, Text: "Remove the box (" + m.boxFound.Kind.Title + ")."})
	}
}

func called(it item) string { return it.id + " (" + it.title() + ")" }

func otherEnd(g *Graph, c *Cable, box string) string {
	far := c.To
	if far == box {
		far = c.From
	}
	if b := g.Inst.Box(far); b != nil {
		return b.Name()
	}
	return far
}

// bringIn fits the box, brings in new cables and fits new accessories.
func (m *mover) bringIn() {
	if m.boxLeft == nil {
		return
	}
	if !m.boxStays() {
		m.add(Move{Kind: FitBox, To: m.boxLeft.Kind.Title, Text: "Fit the box (" + m.boxLeft.Kind.Title + ")."})
	}
	for _, c := range m.left.Inst.Cables {
		if m.cable(m.left, c.ID) != nil && !m.cableStays(c.ID) {
			far := otherEnd(m.left, c, m.box)
			m.add(Move{
				Kind: BringIn, Item: c.ID, From: far,
				Text: "Bring in the new cable " + c.ID + " (" + c.Kind.Title + ", from " + far + ").",
			})
		}
	}
	for _, it := range m.itemsLeft {
		if !m.itemStays(it.id) {
			m.add(Move{Kind: Fit, Item: it.id, To: it.title(), Text: "Fit " + called(it) + "."})
		}
	}
	m.changeLamps()
}

func (m *mover) changeLamps() {
	for _, it := range m.itemsLeft {
		was := find(m.itemsFound, it.id)
		if was == nil || !m.itemStays(it.id) || it.lamp == nil || was.lamp != nil && *was.lamp == *it.lamp {
			continue
		}
		to := it.lamp.Power.String()
		if it.lamp.Kind != nil {
			to = it.lamp.Kind.Title + ", " + to
		}
		m.add(Move{Kind: ChangeLamp, Item: it.id, To: to, Text: "Put " + to + " into " + called(it) + " in place of the lamp there."})
	}
}

// land fills the joints as left.
func (m *mover) land() {
	for l := range m.after {
		j := &m.after[l]
		var here, coming, links []End
		for _, e := range slices.Concat(j.terminals, j.cores) {
			switch {
			case m.inPlace(l, e):
				here = append(here, e)
			case slices.Contains(j.cores, e):
				coming = append(coming, e)
			default:
				links = append(links, e)
			}
		}
		switch {
		case len(j.terminals) > 0:
			m.fill(here, links, coming)
		case len(coming) > 0:
			m.join(l, here, coming)
		}
	}
}

// fill links terminals to the first one there and lands cores in it.
func (m *mover) fill(here, links, coming []End) {
	if len(here) == 0 {
		here, links = links[:1:1], links[1:]
	}
	if _, cores := m.left.sorted(here); len(cores) > 0 && len(coming)+len(links) > 0 {
		m.open(m.left.EndName(here[0]), here)
	}
	for _, e := range links {
		to := m.left.EndName(here[0])
		m.add(Move{
			Kind: Link, Ends: []End{e}, With: slices.Clone(here), To: to,
			Text: "Link " + m.left.EndName(e) + " to " + to + ".",
		})
		here = append(here, e)
	}
	for _, e := range coming {
		m.sleeve(e)
		from, to := m.cameFrom(e), m.left.Where(e)
		m.add(Move{
			Kind: Land, Ends: []End{e}, With: slices.Clone(here), From: from, To: to,
			Text: "Land " + m.left.EndName(e) + " in " + to + ".",
		})
		here = append(here, e)
	}
}

func (m *mover) open(what string, here []End) {
	_, cores := m.left.sorted(here)
	m.add(Move{
		Kind: Open, With: slices.Clone(here), From: what, To: what,
		Text: "Open " + what + ", keeping " + m.left.listEnds(cores, " and ") + " in it.",
	})
}

// join makes a connector, adds to one, or parks a core end.
func (m *mover) join(l int, here, coming []End) {
	if len(here) > 0 {
		m.open("the connector with "+m.left.listEnds(here, " and "), here)
	}
	for _, e := range coming {
		m.sleeve(e)
	}
	move := Move{Kind: Join, Ends: coming, With: here, From: m.cameFrom(coming[0])}
	names := m.left.listEnds(coming, " and ")
	switch {
	case len(m.after[l].cores) == 1:
		move.Kind, move.To = Park, "a connector of its own"
		move.Text = "Park " + names + " in a connector of its own."
	case len(here) > 0:
		move.To = "the connector with " + m.left.listEnds(here, " and ")
		move.Text = "Add " + names + " to " + move.To + "."
	default:
		move.To = m.connectorName(coming[0])
		move.Text = "Join " + names + " in " + move.To + "."
	}
	m.add(move)
}

func (m *mover) connectorName(e End) string {
	for _, c := range m.left.connectors(m.box) {
		if slices.Contains(c.Ends, e) {
			return "connector " + strconv.Itoa(c.Number)
		}
	}
	return "a connector"
}

// cameFrom is where an end was as found; a new cable's end was nowhere.
func (m *mover) cameFrom(e End) string {
	if m.stays(e) {
		return m.found.Where(e)
	}
	return "new cable"
}

func (m *mover) sleeve(e End) {
	kind := m.marks(e)
	if kind == "" {
		return
	}
	text := "Put a " + kind + " on " + m.left.EndName(e)
	if m.stays(e) {
		text += ", unless it has one"
	}
	m.add(Move{Kind: Sleeve, Ends: []End{e}, Sleeve: kind, Text: text + "."})
}

// checkSleeves looks at the ends that stay where they are, since the box is
// open.
func (m *mover) checkSleeves() {
	if m.boxLeft == nil {
		return
	}
	for l := range m.after {
		for _, e := range m.after[l].cores {
			if kind := m.marks(e); kind != "" && m.inPlace(l, e) {
				m.add(Move{
					Kind: Check, Ends: []End{e}, Sleeve: kind,
					Text: "Check that " + m.left.EndName(e) + " carries a " + kind + "; put one on if it does not.",
				})
			}
		}
	}
}
