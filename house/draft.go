package house

import "strapper/unit"

// Draft is a house as a person described it. Lengths that were not given are
// nil and are assumed by [Draft.Assemble], which says so. References are the
// names used in the description.
type Draft struct {
	Partition string // build of inside walls that are not described; "" = assumed
	Outside   string // build of outside walls that are not described; "" = assumed
	Builds    []*Build
	Storeys   []DraftStorey
	Rooms     []DraftRoom
	Walls     []DraftWall
	Openings  []DraftOpening
	Floors    []DraftFloor
	Loft      *DraftLoft  // nil = assumed
	NoLoft    bool        // nothing can be reached over the highest ceiling: a flat, a flat roof
	Under     *DraftUnder // nil = solid ground
	Boxes     []DraftBox
	Blocks    []DraftBlock
	Found     []DraftSighting
}

// DraftStorey is one storey; the lowest comes first.
type DraftStorey struct {
	ID, Title     string
	Cellar        bool
	Level, Height *MM
}

// Way is how a room lies to the room it is placed by.
type Way string

// The ways. Above and Below put a room on the next storey.
const (
	RightOf   Way = "right-of"
	LeftOf    Way = "left-of"
	Behind    Way = "behind"
	InFrontOf Way = "in-front-of"
	Above     Way = "above"
	Below     Way = "below"
)

// DraftRoom is a room, given by its outline or by width, depth and place.
type DraftRoom struct {
	ID, Title, Storey string
	Use               Use
	Finish            Finish
	Outline           []Point // in either direction; nil for a sketched room
	Width, Depth      MM      // left to right, front to back
	Way               Way     // "" for the first room
	Of                string  // the room that Way refers to
	Align             string  // which sides lie in line: "front", "back", "left", "right"; "" = front or left
	ShiftRight        MM      // from there, to the right
	ShiftBack         MM      // from there, to the back
	Open              bool    // nothing stands between the two rooms
}

// DraftWall tells about a wall that arises between two rooms or outside a
// room. Ref is the wall's id, the rooms in either order.
type DraftWall struct {
	Ref       string
	Build     string
	SeenFrom  string // the room from which FirstStud and Studs are read; "" = the first of the id
	Centres   *MM
	FirstStud *MM  // its centre, from the left corner of the face
	Studs     []MM // centres of studs that were found, from the left corner of the face
	Rows      []MM // heights of rows of noggings that were found
	NoRows    bool // it was found that there are none
	Filled    *bool
	Fire      bool
	Bearing   bool
	Under     bool // its head plate stops under the ceiling's board
}

// DraftOpening is a door, window or other hole in a wall. Left and Right are
// distances from a corner of the face to the nearest outer edge of the lining.
type DraftOpening struct {
	ID          string
	Kind        OpeningKind
	Wall        string // a wall's id, the name of a face of Room, or the other room
	Room        string // from which it is seen; "" = the first of the wall's id
	Left, Right *MM
	Width       *MM // clear
	Sill, Head  *MM
	Lining      *MM
}

// DraftFloor tells about a floor: that of a storey, or "loft".
type DraftFloor struct {
	Ref      string
	Solid    *bool
	Depth    *MM // of joists or slab
	Deck     *MM
	DeckKind Deck
	Ceiling  *MM
	Lining   Lining
	Fire     bool
	DraftPart
	Parts []DraftPart
}

// DraftPart tells about a part of a floor; the zero Room means all of it.
type DraftPart struct {
	Room     string // the part over or under this room
	Run      *Axis
	Spacing  *MM
	Breadth  *MM
	First    *MM // centre of a joist, from the part's left or front edge, across the run
	Bearings []MM
	Insulate *MM
	Boarded  bool
}

// DraftLoft is the space under the roof.
type DraftLoft struct {
	Height, Crawl *MM
	Hatch         string // the room whose ceiling has the way in
}

// DraftUnder is the space beneath a suspended lowest floor.
type DraftUnder struct {
	Height *MM
	Access bool
}

// On says which side of a room a box is on, where it is not a wall.
const (
	OnCeiling    = "ceiling"
	AboveCeiling = "above-ceiling"
	UnderFloor   = "under-floor"
)

// DraftBox is where a box stands: measures go to its middle. On a ceiling Left
// and Right are those of the plan.
type DraftBox struct {
	ID, Room, On    string
	Left, Right     *MM
	Front, Back     *MM
	RightOf, LeftOf string // of an opening's lining, as seen from the room
	By              *MM
	Height, Below   *MM // over the finished floor; below the ceiling
	LevelWith       string
	New             bool
	Size            Size
}

// DraftBlock is an obstruction in a wall (Wall) or in a floor (Floor and, for
// its place on plan, Room).
type DraftBlock struct {
	ID          string
	Kind        BlockKind
	Likely      *unit.Percent // nil = certainly there
	Hot         bool
	Wall, Room  string
	Floor       string
	Left, Width *MM // along the face; on plan, from the room's left side
	Front, Deep *MM // on plan, from the room's front side
	Low, High   *MM // over the finished floor
}

// DraftSighting is what was found on a face.
type DraftSighting struct {
	Sign        Sign
	Wall, Room  string
	Left, Width *MM
	Height      *MM
	Note        string
}
