package route

import (
	"fmt"
	"strings"

	"strapper/finding"
	"strapper/house"
)

// steps puts a way into words, and collects its holes.
func (g *graph) steps(r Run, route *Route) {
	w := &writer{g: g, r: r, route: route}
	list := g.legs(route)
	for i := 0; i < len(list); {
		n := 1
		for i+n < len(list) && sameStep(list[i], list[i+n]) {
			n++
		}
		w.write(list[i:i+n], i == 0, i+n == len(list))
		i += n
	}
}

// sameStep reports whether two edges are one thing to a person: a straight run
// on in the same place.
func sameStep(a, b leg) bool {
	return a.space() == b.space() && a.from.space == a.to.space && b.from.space == b.to.space &&
		a.from.wall == a.to.wall && b.from.wall == b.to.wall && a.from.wall == b.from.wall && direction(a.from.at, a.to.at) == direction(b.from.at, b.to.at)
}

// writer writes the steps of one way.
type writer struct {
	g     *graph
	r     Run
	route *Route
	half  map[Work]int // halves of lifted boards and the like not yet told
}

// write tells a straight run: what is done first, the run, and what is done in
// it.
func (w *writer) write(legs []leg, first, last bool) {
	from, to := legs[0].from, legs[len(legs)-1].to
	length := MM(0)
	var tasks []task
	for _, l := range legs {
		length += l.length
		tasks = append(tasks, l.tasks...)
	}
	w.openings(tasks, onFloor(from, to))
	if first {
		w.end(0, legs[0])
	}
	if text := w.run(legs, from, to, length); text != "" {
		w.add(text, length, tasks, Drop, Across, Lining, ChaseUp, ChaseAlong, Lane, LoftRun, UnderRun, Trunk, Joist, Notch, AlongBoard)
	}
	w.closings(tasks)
	if last {
		w.end(1, legs[len(legs)-1])
	}
}

// onFloor is the one of two nodes that is in a floor, or the second.
func onFloor(a, b node) node {
	if b.floor == nil {
		return a
	}
	return b
}

// end tells of one end of the cable, in its box.
func (w *writer) end(which int, l leg) {
	text := fmt.Sprintf("%s: leave %v of cable", finding.Capital(w.name(which)), w.r.Tails[which])
	box := [2]node{l.from, l.to}[which]
	if box.wall == nil && !box.hidden && l.space() != OnSurface {
		text += "; it comes through the ceiling from above"
	}
	w.add(text+".", 0, l.tasks, Enter, PointWork)
}

// name is what an end of the run is called.
func (w *writer) name(end int) string {
	if w.r.Names[end] != "" {
		return w.r.Names[end]
	}
	return "box " + [2]string{w.r.From, w.r.To}[end]
}

func (w *writer) add(text string, length MM, tasks []task, of ...Work) {
	s := Step{Text: text, Length: length}
	sum := effort{}
	for _, t := range tasks {
		for _, work := range of {
			if t.work == work {
				sum = sum.plus(w.g.o.takes(t))
				s.Tool = w.g.o.Of(work).Tool
			}
		}
	}
	s.Minutes = minutes(sum.seconds)
	w.route.Steps = append(w.route.Steps, s)
}

// openings tells what is opened and drilled before a run can be made.
func (w *writer) openings(tasks []task, to node) {
	for _, t := range tasks {
		w.lift(t, to)
	}
	for _, t := range tasks {
		switch t.work {
		case Head, Sole, Rise, Base, Skirting, Through, ThroughUp, Bearing, Joist, Notch:
			if t.hole != nil {
				w.route.Holes = append(w.route.Holes, *t.hole)
			}
		case StudHole, Nogging:
			if t.hole != nil {
				w.route.Holes = append(w.route.Holes, *t.hole)
			}
		}
		if text := w.drill(t); text != "" {
			w.add(text, 0, []task{t}, t.work)
		}
	}
}

// drill is the sentence for a hole, or "".
func (w *writer) drill(t task) string {
	if t.work == Beside {
		return "A wall stands over that hole: work from beside it with a right-angle drill."
	}
	if t.hole == nil || t.work == Joist || t.work == Notch {
		return ""
	}
	h := t.hole
	switch t.work {
	case Rise, Base:
		return fmt.Sprintf("Open the plaster of %s and make a hole through the %s: %s.", wallName(h.wall), strings.TrimSuffix(h.Through, " behind the plaster"), h.words())
	case Head, Sole:
		return fmt.Sprintf("Drill the %s of %s: %s.", h.Through, wallName(h.wall), h.words())
	case Skirting:
		return fmt.Sprintf("Take off the skirting over %s and drill both plates: %s.", wallName(h.wall), h.words())
	case StudHole:
		return fmt.Sprintf("%s; drill the stud on its middle, %v.", finding.Capital(w.g.openAt(h.wall, w.alongOf(h), h.Spot.Z-h.wall.Storey.Level)), h.Diameter)
	case Nogging:
		return fmt.Sprintf("%s; drill the nogging, %v.", finding.Capital(w.g.openAt(h.wall, w.alongOf(h), h.Spot.Z-h.wall.Storey.Level)), h.Diameter)
	case Bearing:
		return fmt.Sprintf("Drill the %s, %v.", h.Through, h.Diameter)
	}
	text := fmt.Sprintf("Drill through the %s, %v", h.Through, h.Diameter)
	if h.wall != nil && (h.wall.Rooms[0] == nil || h.wall.Rooms[1] == nil) {
		text += ", upwards to the inside, so that no water runs in"
	}
	return text + "."
}

// alongOf is the place of a hole along its wall.
func (w *writer) alongOf(h *Hole) MM {
	run, ok := h.wall.Run()
	if !ok {
		return 0
	}
	p := house.Point{X: h.Spot.X, Y: h.Spot.Y}
	return abs(run.Of(p) - run.Of(h.wall.From))
}

// words give the size of a hole and how to find its place.
func (h *Hole) words() string {
	text := fmt.Sprintf("%v, %s", h.Diameter, h.Place)
	if h.Datum == "" {
		return text + "; from the other side, find it by a 3 mm pilot made from the room, close to the wall"
	}
	return text + fmt.Sprintf(", %v from %s (%s)", h.Distance, h.Datum, h.doubt())
}

// doubt says how far measuring a hole's place may be relied on.
func (h *Hole) doubt() string {
	if !h.Sure() {
		return fmt.Sprintf("measuring may be out by %v and only %v is allowed: make a 3 mm pilot from the room first, close to the wall", h.OffBy, h.Play)
	}
	return fmt.Sprintf("measuring may be out by %v, %v is allowed", h.OffBy, h.Play)
}

// lift tells of boards that come up: two halves make one.
func (w *writer) lift(t task, at node) {
	text := ""
	switch t.work {
	case LiftBoards:
		text = "Lift the floorboard over that place" + w.g.upstairs(at) + "."
	case LiftSheets:
		text = "Cut a trap in the floor sheet over that place" + w.g.upstairs(at) + "."
	case LoftIn:
		text = "Go into the loft, with boards to kneel on and a light."
	case UnderIn:
		text = "Go beneath the floor."
	}
	if text == "" {
		return
	}
	if w.half == nil {
		w.half = map[Work]int{}
	}
	if w.half[t.work]%2 == 0 || !t.half {
		w.add(text, 0, []task{{work: t.work}}, t.work)
	}
	if t.half {
		w.half[t.work]++
	}
}

// closings tells what is closed or sealed after a run.
func (w *writer) closings(tasks []task) {
	for _, t := range tasks {
		if t.work == Seal {
			w.add("Seal round the cable where it passes the fire-resisting floor or wall, on both sides.", 0, []task{t}, Seal)
		}
	}
}

// run is the sentence for a straight run, or "".
func (w *writer) run(legs []leg, from, to node, length MM) string {
	if length == 0 {
		return ""
	}
	l := legs[0]
	switch l.space() {
	case InWall:
		return w.wallRun(legs, from, to, length)
	case InFloor:
		return w.floorRun(l, from, to, length)
	case InBoard:
		if from.space != to.space {
			if from.hidden || to.hidden {
				return fmt.Sprintf("Between the box and the %s: %v.", lifted(onFloor(from, to)), said(length))
			}
			if to.space == InWall {
				return fmt.Sprintf("From under the %s into the wall: %v.", lifted(onFloor(from, to)), said(length))
			}
			return fmt.Sprintf("Out of the wall to under the %s: %v.", lifted(onFloor(from, to)), said(length))
		}
		return w.boardRun(legs, length)
	case InLoft:
		return w.openRun("In the loft", from, to, length)
	case InUnder:
		return w.openRun("Beneath the floor", from, to, length)
	case OnSurface:
		if from.room != nil && to.room != nil && from.room != to.room {
			return fmt.Sprintf("From %s into %s: %v.", roomName(from.room), roomName(to.room), said(length))
		}
		return fmt.Sprintf("In surface trunking in %s, %s: %v.", roomName(roomOf(from, to)), heading(from.at, to.at), said(length))
	}
	return ""
}

func roomOf(from, to node) *house.Room {
	if from.room != nil {
		return from.room
	}
	return to.room
}

func (w *writer) wallRun(legs []leg, from, to node, length MM) string {
	l := legs[0]
	wall := l.from.wall
	if wall == nil {
		wall = l.to.wall
	}
	if from.space != InWall || to.space != InWall {
		return ""
	}
	how := "Inside " + wallName(wall)
	if !wall.Build.Hollow() {
		how = "In a chase in " + wallName(wall)
		if wall.Build.Gap[l.side] > 0 {
			how = "Behind the lining of " + wallName(wall)
		}
	}
	for _, other := range legs {
		if other.length > l.length {
			l = other
		}
	}
	text := fmt.Sprintf("%s, %s: %v", how, heading(from.at, to.at), said(length))
	if from.at.Z != to.at.Z {
		text += fmt.Sprintf(", from %v to %v above the floor", from.high, to.high)
	} else {
		text += fmt.Sprintf(", %v above the floor", from.high)
	}
	text += "; " + l.zone
	if l.held {
		text += fmt.Sprintf("; hold the cable near %s, at least %v from the other face", faceName(wall, l.side), w.g.l.Cover)
	}
	return text + "."
}

func faceName(w *house.Wall, s house.Side) string {
	if r := w.Rooms[s]; r != nil {
		return "the face in " + roomName(r)
	}
	return "the outer face"
}

func (w *writer) floorRun(l leg, from, to node, length MM) string {
	if from.space == InFloor && to.space == InFloor {
		return fmt.Sprintf("Between the joists, %s: %v.", heading(from.at, to.at), said(length))
	}
	if from.hidden || to.hidden {
		return fmt.Sprintf("Between the box and the middle of the joists: %v.", said(length))
	}
	if from.space == AtBox || to.space == AtBox {
		return fmt.Sprintf("Between the ceiling point and the floor above it: %v.", said(length))
	}
	if from.space == InWall && to.space == InWall {
		return fmt.Sprintf("Through both plates, %s: %v.", heading(from.at, to.at), said(length))
	}
	if to.space == InWall {
		return fmt.Sprintf("From between the joists into the wall, %s: %v.", heading(from.at, to.at), said(length))
	}
	return fmt.Sprintf("Out of the wall, %s, to between the joists: %v.", heading(from.at, to.at), said(length))
}

// lifted names what has come up over a run across the joists.
func lifted(at node) string {
	if at.floor != nil && liftWork(at.floor) == LiftSheets {
		return "opened sheet"
	}
	return "lifted board"
}

func (w *writer) boardRun(legs []leg, length MM) string {
	to := onFloor(legs[0].from, legs[len(legs)-1].to)
	drilled, notched := 0, 0
	var h *Hole
	for _, l := range legs {
		for _, t := range l.tasks {
			switch t.work {
			case Joist:
				drilled, h = drilled+1, t.hole
			case Notch:
				notched, h = notched+1, t.hole
			}
		}
	}
	text := fmt.Sprintf("Under the %s, %s: %v", lifted(to), heading(legs[0].from.at, legs[len(legs)-1].to.at), said(length))
	switch {
	case drilled > 0:
		text += fmt.Sprintf("; drill %s, %v, %s, %v from %s", count(drilled, "joist"), h.Diameter, h.Place, h.Distance, h.Datum)
	case notched > 0:
		text += fmt.Sprintf("; notch %s, %s, %v from %s, and cover each notch with a 3 mm steel plate", count(notched, "joist"), h.Place, h.Distance, h.Datum)
	}
	if drilled > 0 && h.Plate {
		text += "; cover each with a 3 mm steel plate: the hole is less than 50 mm from an edge"
	}
	return text + "."
}

func (w *writer) openRun(where string, from, to node, length MM) string {
	if from.space != to.space {
		return "" // told by the hole
	}
	x, y := abs(from.at.X-to.at.X), abs(from.at.Y-to.at.Y)
	text := fmt.Sprintf("%s: %v", where, said(length))
	if x > 0 && y > 0 {
		text += fmt.Sprintf(", %v %s and %v %s", said(x), leftRight(from.at, to.at), said(y), frontBack(from.at, to.at))
	} else {
		text += ", " + heading(from.at, to.at)
	}
	return text + ", clipped to the joists and kept clear of the insulation where it can be."
}

// heading names the direction of a move.
func heading(a, b Spot) string {
	var list []string
	if a.Z != b.Z {
		list = append(list, map[bool]string{true: "up", false: "down"}[b.Z > a.Z])
	}
	if a.X != b.X && a.Z == b.Z {
		list = append(list, leftRight(a, b))
	}
	if a.Y != b.Y && a.Z == b.Z {
		list = append(list, frontBack(a, b))
	}
	return strings.Join(list, " and ")
}

func leftRight(a, b Spot) string {
	return map[bool]string{true: "to the right", false: "to the left"}[b.X > a.X]
}

func frontBack(a, b Spot) string {
	return map[bool]string{true: "to the back", false: "to the front"}[b.Y > a.Y]
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// said is a length as it is told: to the centimetre.
func said(l MM) MM { return (l + 5) / 10 * 10 }

// Takes says how long a route takes, in a sentence.
func (r *Route) Takes() string {
	text := fmt.Sprintf("About %d minutes", r.Minutes)
	if r.MinutesMost == r.MinutesBest {
		return text + "; nothing is known that may stand in the way."
	}
	return text + fmt.Sprintf(": %d if nothing stands in the way, %d if everything does that may.", r.MinutesBest, r.MinutesMost)
}
