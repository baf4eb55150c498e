package house

import (
	"strapper/finding"
	"strapper/source"
	"strapper/unit"
)

// MM is a length in whole millimetres.
type MM = unit.Millimetre

// Reach is the greatest coordinate, level or height of a house, either way: a
// kilometre. Products of two differences of coordinates stay below 2^42, so
// that determinants are exact in 64 bits.
const Reach MM = 1_000_000

// Point is a place on plan.
type Point struct{ X, Y MM }

// Axis is a direction on plan.
type Axis uint8

// The axes of a plan.
const (
	AlongX Axis = iota // left to right
	AlongY             // front to back
)

// House is the fabric of a house, complete and free of contradictions if
// [Draft.Assemble] gave it without findings that forbid. Lists are in the
// order of the description; ids are unique within each list.
type House struct {
	Storeys []*Storey // the lowest first; a cellar is a storey
	Loft    *Loft     // over the highest storey; nil if there is none
	Under   *Void     // beneath the lowest storey; nil over solid ground
	Rooms   []*Room
	Walls   []*Wall
	Boxes   []*Box
	Blocks  []*Block // known and possible obstructions
	Found   []*Sighting

	Findings []finding.Finding // what had to be assumed, and what is doubtful; none forbids
}

// Storey is one level of rooms.
type Storey struct {
	ID, Title string
	Index     int    // 0 for the lowest
	Cellar    bool   // below ground
	Level     MM     // of its finished floor
	Height    MM     // finished floor to finished ceiling
	Floor     *Floor // on which it stands
	Above     *Floor // that carries its ceiling: of the storey over it, or of the loft; never nil
	Rooms     []*Room
	Walls     []*Wall
}

// Ceiling is the level of the storey's finished ceiling.
func (s *Storey) Ceiling() MM { return s.Level + s.Height }

// Floor is the construction between two storeys, beneath the lowest, or over
// the highest: from what is walked on down to the ceiling beneath it. Its
// joists may run differently in different parts.
type Floor struct {
	ID       string
	Top      MM      // level of the finished floor; over the highest storey, of the joists' upper edges
	Deck     MM      // thickness of boards or sheets on the joists, with the covering; 0 in a loft
	Ceiling  MM      // thickness of the ceiling beneath; 0 if there is none
	Depth    MM      // of joists, or of a solid slab; Top - Deck - Depth - Ceiling is the ceiling's underside
	Parts    []*Part // the first that holds a place counts; the last holds every place of the storey
	Fire     bool    // separates fire compartments: holes must be stopped
	Over     *Storey // the storey that stands on it; nil for a loft's
	Below    *Storey // the storey whose ceiling it is; nil for the lowest
	DeckKind Deck
	Lining   Lining // of the ceiling beneath
}

// Underside is the level of the finished ceiling beneath.
func (f *Floor) Underside() MM { return f.Top - f.Deck - f.Depth - f.Ceiling }

// JoistTop is the level of the upper edges of the joists.
func (f *Floor) JoistTop() MM { return f.Top - f.Deck }

// JoistBottom is the level of the lower edges of the joists.
func (f *Floor) JoistBottom() MM { return f.Top - f.Deck - f.Depth }

// Deck is what lies on the joists.
type Deck string

// The decks. Boards come up one by one; sheets have to be cut.
const (
	DeckNone   Deck = "none"   // bare joists of a loft
	DeckBoards Deck = "boards" // square-edged or tongued boards across the joists
	DeckSheets Deck = "sheets" // chipboard or plywood
	DeckSolid  Deck = "solid"  // concrete, screed
)

// Lining is what closes a ceiling or the face of a wall.
type Lining string

// The linings.
const (
	LiningNone    Lining = "none"
	LiningBoard   Lining = "plasterboard"
	LiningLath    Lining = "lath and plaster"
	LiningPlaster Lining = "plaster" // wet, on masonry
)

// Part is a part of a floor whose joists run one way.
type Part struct {
	ID       string
	Outline  []Point // clockwise; simple
	Solid    bool    // no joists: concrete
	Run      Axis    // the direction of the joists
	Spacing  MM      // centre to centre
	Breadth  MM      // of one joist
	First    MM      // centre of one of the joists, across the run; the others follow from it
	Measured bool    // First was found on site; else it is assumed
	Bearings []MM    // where joists rest, as coordinates along the run, ascending; at least two
	Insulate MM      // depth of insulation between or over the joists, from the ceiling's upper face
	Boarded  bool    // of a loft: boarded over
}

// Loft is the space under the roof, over the ceiling of the highest storey.
type Loft struct {
	Floor  *Floor // its joists are the ceiling's; Part.Boarded tells where they are boarded
	Height MM     // greatest clear height over the joists
	Crawl  MM     // clear height at the eaves that a person or an arm can work in
	Hatch  *Room  // in whose ceiling the way in is; nil if not given
}

// Void is the space beneath a suspended lowest floor.
type Void struct {
	Height MM   // clear height under the joists
	Access bool // a person can get in
}

// Use is what a room is for, where it matters.
type Use string

// The uses of rooms. Outdoor rooms are places outside the house at which
// something is fitted, such as a porch.
const (
	UseOrdinary Use = ""
	UseBathroom Use = "bathroom"
	UseKitchen  Use = "kitchen"
	UseHall     Use = "hall"
	UseStairs   Use = "stairs"
	UseCupboard Use = "cupboard"
	UseGarage   Use = "garage"
	UseOutdoor  Use = "outdoor"
)

// Finish is what a room's walls wear: what has to be made good.
type Finish string

// The finishes.
const (
	FinishPaint Finish = "paint"
	FinishPaper Finish = "paper"
	FinishTiles Finish = "tiles"
	FinishBare  Finish = "bare"
)

// Room is a space bounded by finished wall faces. Outline holds its corners
// clockwise on plan: each edge is the face of a wall as somebody in the room
// reads it from left to right.
type Room struct {
	ID, Title string
	Storey    *Storey
	Use       Use
	Finish    Finish
	Outline   []Point
	Faces     []*Face // one an edge, in the same order
}

// Face is one flat side of a room, from corner to corner, as seen from inside:
// From is at the left hand. Behind it stand one or more walls.
type Face struct {
	Room     *Room
	Name     string // unique in the room: "left", "back", "right", "front", "back-2"
	From, To Point
	Walls    []Stretch // from left to right; together they cover the face, but for gaps where nothing is known
}

// Stretch is the part of a face behind which one wall stands.
type Stretch struct {
	From, To MM // along the face, from its left corner
	Wall     *Wall
	Side     Side
	At       MM   // where the stretch begins along Side's own reading of the wall: see Wall.Along
	Reverse  bool // the face reads against the wall's From to To
}

// Side is one of the two sides of a wall.
type Side uint8

// SideA looks along the wall from From at the left hand to To at the right;
// SideB is the other.
const (
	SideA Side = iota
	SideB
)

// Other is the opposite side.
func (s Side) Other() Side { return 1 - s }

// Wall is one straight wall of one storey, between two rooms or to the
// outside. From and To lie on the finished face of side A, and the body of the
// wall lies to the left of the direction from From to To, Build.Thickness()
// deep. Positions along the wall are counted from From.
type Wall struct {
	ID       string
	Storey   *Storey
	From, To Point
	Rooms    [2]*Room // beside the two sides; nil for outside, or where nothing is described
	Build    *Build
	Fire     bool // separates fire compartments
	Bearing  bool // carries load from above

	Openings []*Opening // in order along the wall
	Studs    []Stud     // in order along the wall; none in masonry
	Noggings []Nogging  // of stud walls
}

// Fabric is what a wall is made of.
type Fabric string

// The fabrics.
const (
	FabricStud      Fabric = "stud"       // timber studs, plasterboard
	FabricLath      Fabric = "lath"       // timber studs, lath and plaster
	FabricMetal     Fabric = "metal-stud" // steel studs, plasterboard
	FabricSolid     Fabric = "solid"      // masonry, plaster on both sides
	FabricDryLined  Fabric = "dry-lined"  // masonry, plasterboard on dabs or battens
	FabricCavity    Fabric = "cavity"     // two leaves of masonry
	FabricOpenSpace Fabric = "open"       // no wall: rooms that run into one another
)

// Build is how a wall is built up, from side A to side B. In an outside wall
// side A is the room's.
type Build struct {
	ID, Title string
	Fabric    Fabric

	Face [2]MM     // thickness of the lining of each side: board and skim, lath and plaster, wet plaster; 0 for bare
	Line [2]Lining // what it is
	Gap  [2]MM     // void behind the lining of each side: dabs or battens; dry-lined walls only
	Core MM        // between linings and gaps: depth of studs, or of the masonry with its cavity
	Leaf [2]MM     // of a cavity wall: its two leaves; the cavity is the rest of Core

	Stud       MM           // breadth of one stud, seen from the room
	Centres    MM           // of studs
	Plate      MM           // height of sole and head plate
	Rows       []MM         // heights of the centre lines of rows of noggings over the finished floor
	Nogging    MM           // height of a nogging
	Likely     unit.Percent // how likely a row of noggings is there, where it was not seen
	Filled     bool         // insulation between studs, or in the cavity
	Source     source.Source
	UnderBoard bool // the ceiling's board passes over the head plate; else the plate meets the joists and the board stops at the wall
}

// Thickness is the whole thickness of the wall.
func (b *Build) Thickness() MM {
	return b.Face[0] + b.Gap[0] + b.Core + b.Gap[1] + b.Face[1]
}

// Hollow reports whether cables can drop between studs.
func (b *Build) Hollow() bool {
	return b.Fabric == FabricStud || b.Fabric == FabricLath || b.Fabric == FabricMetal
}

// Stud is one upright of a stud wall.
type Stud struct {
	At    MM   // its centre line along the wall
	Width MM   // as seen from the room
	Seen  bool // found on site; else set out from the centres
	Jamb  bool // beside an opening or at an end
}

// Nogging is a row of short timbers between studs.
type Nogging struct {
	From, To MM           // along the wall
	Height   MM           // of its centre line over the finished floor
	Depth    MM           // its height, seen from the room
	Likely   unit.Percent // 100 if it was seen, 0 if it was looked for and is not there
}

// OpeningKind is what closes an opening.
type OpeningKind string

// The openings.
const (
	Door   OpeningKind = "door"
	Window OpeningKind = "window"
	Arch   OpeningKind = "arch"
	Hatch  OpeningKind = "hatch"
)

// Opening is a hole through a wall. Distances from a door are measured to the
// outer edge of its lining or architrave, which a person can find from both
// rooms.
type Opening struct {
	ID       string
	Kind     OpeningKind
	Wall     *Wall
	From, To MM // of the clear opening, along the wall
	Sill     MM // over the finished floor; 0 for a door
	Head     MM // over the finished floor
	Lining   MM // from the edge of the clear opening to the outer edge of lining or architrave
}

// Anchor is what a distance of a box was measured from.
type Anchor string

// The anchors. Left and right are those of somebody in the room who looks at
// the wall; for a ceiling box they are the left and right of the plan.
const (
	FromLeft    Anchor = "left corner"
	FromRight   Anchor = "right corner"
	FromFront   Anchor = "front wall"
	FromBack    Anchor = "back wall"
	FromOpening Anchor = "opening"
	FromFloor   Anchor = "finished floor"
	FromCeiling Anchor = "ceiling"
	FromBox     Anchor = "level with a box"
)

// Measure is one distance as a person took it, to the centre of the box.
type Measure struct {
	From     Anchor
	Of       string // the opening's or other box's id
	Distance MM
	Assumed  bool
}

// Box is where a box of the wiring stands. Exactly one of Wall and Over is set.
type Box struct {
	ID   string // as in the wiring
	Room *Room
	Size Size
	New  bool // to be cut; else it is there as found

	Wall   *Wall
	Side   Side // the side on which its front is
	Along  MM   // of its centre, along the wall
	Height MM   // of its centre, over the finished floor
	Face   *Face

	Over   *Floor // a box on a ceiling, or in the void behind: the floor it is on or in
	Hidden bool   // it lies in that void: over the ceiling, or under the boards of the floor
	At     Point  // of its centre on plan; on a wall, the point of the face before it

	Measures []Measure // as given
}

// Size is what the house needs to know of a kind of box.
type Size struct {
	Width, Height, Depth MM   // of its body; 0 where not stated
	Plate                MM   // by how much the plate stands over the body on each side
	Flush                bool // let into the wall or ceiling
	Lined                bool // clamps to a board: needs a void behind
	Gangs                int
}

// BlockKind is what stands in the way.
type BlockKind string

// The obstructions.
const (
	BlockNogging BlockKind = "nogging"
	BlockPipe    BlockKind = "pipe"
	BlockCable   BlockKind = "cable"
	BlockSteel   BlockKind = "steel"
	BlockFlue    BlockKind = "flue"
	BlockBrace   BlockKind = "brace" // a diagonal timber
	BlockOther   BlockKind = "other"
)

// Block is something in a wall or a floor that a cable cannot pass, or must
// keep away from. Exactly one of Wall and Floor is set.
type Block struct {
	ID     string
	Kind   BlockKind
	Likely unit.Percent // 100 if it is known to be there
	Hot    bool         // gives off heat: a flue, a heating or hot water pipe

	Wall      *Wall
	From, To  MM // along the wall
	Low, High MM // over the finished floor

	Floor *Floor
	Area  [2]Point // corners on plan, least and greatest coordinates; the whole depth of the floor
}

// Known reports whether the obstruction is certainly there.
func (b *Block) Known() bool { return b.Likely >= 100 }

// Sign is what a stud finder, a magnet or a small hole told.
type Sign string

// The signs. A sign that nothing is there counts: it clears a place.
const (
	SignStud    Sign = "stud"
	SignNogging Sign = "nogging"
	SignMetal   Sign = "metal"
	SignLive    Sign = "live"
	SignPipe    Sign = "pipe"
	SignClear   Sign = "clear"
)

// Sighting is one finding of a stud finder or the like on one face of a wall.
type Sighting struct {
	Sign     Sign
	Wall     *Wall
	Side     Side
	From, To MM // along the wall: edges as found
	Height   MM // over the finished floor, at which it was looked for; 0 for all heights
	Note     string
}
