package job

// The house section as written; see file.go.

type fileHouse struct {
	Partition    string                     `json:"partition,omitempty" jsonschema:"example=stud-63,example=lath-100" jsonschema_description:"What inside walls are made of that are not described: a usual build by its id, or one under builds:."`
	Outside      string                     `json:"outside,omitempty" jsonschema:"example=cavity-270" jsonschema_description:"What outside walls are made of that are not described."`
	Builds       map[string]fileBuild       `json:"builds,omitempty" jsonschema_description:"Builds of walls of your own, each like a usual one but for what is given."`
	Storeys      map[string]fileStorey      `json:"storeys,omitempty" jsonschema_description:"Storeys, the lowest first."`
	Rooms        map[string]fileRoom        `json:"rooms" jsonschema_description:"Rooms, by id: sketched as width x depth, one beside the other, or with outlines. The front of the house is at the bottom of the plan."`
	Walls        map[string]fileWall        `json:"walls,omitempty" jsonschema_description:"What is known of single walls, by the two rooms: hall-kitchen; of an outside wall by room and side: hall-front."`
	Openings     map[string]fileOpening     `json:"openings,omitempty" jsonschema_description:"Doors, windows and other openings."`
	Floors       map[string]fileFloor       `json:"floors,omitempty" jsonschema_description:"What is known of floors: each has the name of the storey that stands on it; the one over the highest storey is called loft."`
	Loft         *fileLoft                  `json:"loft,omitempty" jsonschema_description:"The space under the roof."`
	Under        *fileUnder                 `json:"under,omitempty" jsonschema_description:"The space beneath a suspended lowest floor; leave out over solid ground."`
	Boxes        map[string]fileHouseBox    `json:"boxes,omitempty" jsonschema_description:"Where the boxes of the job stand, by the same ids. All distances go to the middle of the box."`
	Obstructions map[string]fileObstruction `json:"obstructions,omitempty" jsonschema_description:"What stands in the way of a cable, known or possible."`
	Found        []fileSighting             `json:"found,omitempty" jsonschema_description:"What a stud finder, a magnet or a small hole told."`
}

type fileBuild struct {
	Like       string   `json:"like" jsonschema:"example=stud-75" jsonschema_description:"The usual build it is like."`
	Title      string   `json:"title,omitempty" jsonschema_description:"What it is, in words."`
	Core       string   `json:"core,omitempty" jsonschema:"example=75 mm" jsonschema_description:"Depth of studs or masonry."`
	Face       string   `json:"face,omitempty" jsonschema:"example=15 mm" jsonschema_description:"Thickness of the lining of each face: board and skim, lath and plaster, plaster."`
	Stud       string   `json:"stud,omitempty" jsonschema:"example=50 mm" jsonschema_description:"Breadth of a stud, seen from the room."`
	Centres    string   `json:"centres,omitempty" jsonschema:"example=450 mm" jsonschema_description:"Studs, centre to centre."`
	Plate      string   `json:"plate,omitempty" jsonschema:"example=50 mm" jsonschema_description:"Height of sole and head plate."`
	Noggings   []string `json:"noggings,omitempty" jsonschema_description:"Heights of the rows of noggings that are likely there; an empty list for none."`
	Likely     string   `json:"likely,omitempty" jsonschema:"example=60 %" jsonschema_description:"How likely they are there."`
	Filled     bool     `json:"filled,omitempty" jsonschema_description:"Insulation between studs, or in the cavity."`
	UnderBoard bool     `json:"under-board,omitempty" jsonschema_description:"The head plate stops under the ceiling's board."`
}

type fileStorey struct {
	Title  string `json:"title,omitempty" jsonschema_description:"What the household calls it."`
	Height string `json:"height,omitempty" jsonschema:"example=2.4 m" jsonschema_description:"Finished floor to finished ceiling."`
	Level  string `json:"level,omitempty" jsonschema:"example=2.63 m" jsonschema_description:"Level of its finished floor; worked out from heights and floors if not given."`
	Cellar bool   `json:"cellar,omitempty" jsonschema_description:"It lies below ground."`
}

type fileRoom struct {
	Title      string     `json:"title,omitempty" jsonschema_description:"What the household calls it."`
	Storey     string     `json:"storey,omitempty" jsonschema_description:"Its storey; that of the room it is placed by, or the lowest, if not given."`
	Use        string     `json:"use,omitempty" jsonschema:"enum=bathroom,enum=kitchen,enum=hall,enum=stairs,enum=cupboard,enum=garage,enum=outdoor" jsonschema_description:"What it is for, where it matters."`
	Finish     string     `json:"finish,omitempty" jsonschema:"enum=paint,enum=paper,enum=tiles,enum=bare" jsonschema_description:"What its walls wear; paint if not given."`
	Size       string     `json:"size,omitempty" jsonschema:"example=3.6 m x 4.5 m" jsonschema_description:"Width (left to right) x depth (front to back), between finished walls."`
	RightOf    string     `json:"right-of,omitempty" jsonschema_description:"The room it stands right of, with a wall between."`
	LeftOf     string     `json:"left-of,omitempty" jsonschema_description:"The room it stands left of."`
	Behind     string     `json:"behind,omitempty" jsonschema_description:"The room it stands behind."`
	InFrontOf  string     `json:"in-front-of,omitempty" jsonschema_description:"The room it stands in front of."`
	Above      string     `json:"above,omitempty" jsonschema_description:"The room it stands above, front left corner on front left corner."`
	Below      string     `json:"below,omitempty" jsonschema_description:"The room it stands below."`
	Align      string     `json:"align,omitempty" jsonschema:"enum=front,enum=back,enum=left,enum=right" jsonschema_description:"Which sides of the two rooms lie in line; front, or left, if not given."`
	ShiftRight string     `json:"shift-right,omitempty" jsonschema:"example=600 mm" jsonschema_description:"Moved from there to the right; to the left if negative."`
	ShiftBack  string     `json:"shift-back,omitempty" jsonschema:"example=600 mm" jsonschema_description:"Moved from there to the back; to the front if negative."`
	Open       bool       `json:"open,omitempty" jsonschema_description:"Nothing stands between it and the room it is placed by."`
	Outline    [][]string `json:"outline,omitempty" jsonschema_description:"Corners in order round the room, each [right, back] from one corner of the house: [0 m, 4.5 m]. Instead of a size and a place."`
}

type fileWall struct {
	Build      string   `json:"build,omitempty" jsonschema:"example=stud-89" jsonschema_description:"What it is made of."`
	SeenFrom   string   `json:"seen-from,omitempty" jsonschema_description:"The room from which studs were measured; the first of the wall's name if not given."`
	FirstStud  string   `json:"first-stud,omitempty" jsonschema:"example=350 mm" jsonschema_description:"Left corner to the middle of a stud that was found; the others follow at their centres."`
	Studs      []string `json:"studs,omitempty" jsonschema_description:"Left corner to the middles of studs that were found."`
	Centres    string   `json:"centres,omitempty" jsonschema:"example=400 mm" jsonschema_description:"Studs, centre to centre."`
	Noggings   []string `json:"noggings,omitempty" jsonschema_description:"Heights of rows of noggings that were found; an empty list if it was found that there are none."`
	Filled     *bool    `json:"filled,omitempty" jsonschema_description:"Insulation between studs, or in the cavity."`
	Fire       bool     `json:"fire,omitempty" jsonschema_description:"It separates fire compartments."`
	Bearing    bool     `json:"bearing,omitempty" jsonschema_description:"Joists rest on it."`
	UnderBoard bool     `json:"under-board,omitempty" jsonschema_description:"Its head plate stops under the ceiling's board."`
}

type fileOpening struct {
	Kind      string `json:"kind" jsonschema:"enum=door,enum=window,enum=arch,enum=hatch" jsonschema_description:"What it is."`
	Wall      string `json:"wall" jsonschema:"minLength=1,example=right,example=kitchen" jsonschema_description:"The wall it is in: left, back, right or front of the room, the room behind it, or the wall's id."`
	Room      string `json:"room,omitempty" jsonschema_description:"The room it is seen from; the first of the wall's id if not given."`
	FromLeft  string `json:"from-left,omitempty" jsonschema:"example=400 mm" jsonschema_description:"Left corner of the wall to the nearest outer edge of the lining or architrave."`
	FromRight string `json:"from-right,omitempty" jsonschema:"example=400 mm" jsonschema_description:"Right corner of the wall to the nearest outer edge of the lining or architrave."`
	Width     string `json:"width,omitempty" jsonschema:"example=762 mm" jsonschema_description:"Clear width."`
	Sill      string `json:"sill,omitempty" jsonschema:"example=900 mm" jsonschema_description:"Finished floor to the sill."`
	Head      string `json:"head,omitempty" jsonschema:"example=1981 mm" jsonschema_description:"Finished floor to the head."`
	Lining    string `json:"lining,omitempty" jsonschema:"example=65 mm" jsonschema_description:"Edge of the clear opening to the outer edge of the lining or architrave."`
}

type filePart struct {
	Room string `json:"room" jsonschema:"minLength=1" jsonschema_description:"The room over or under this part of the floor."`
	fileJoists
}

type fileJoists struct {
	Joists     string   `json:"joists,omitempty" jsonschema:"enum=front-back,enum=left-right" jsonschema_description:"Which way the joists run."`
	Spacing    string   `json:"spacing,omitempty" jsonschema:"example=400 mm" jsonschema_description:"Joists, centre to centre."`
	Breadth    string   `json:"breadth,omitempty" jsonschema:"example=47 mm" jsonschema_description:"Breadth of a joist."`
	FirstJoist string   `json:"first-joist,omitempty" jsonschema:"example=80 mm" jsonschema_description:"Left or front edge of this part to the middle of a joist that was found."`
	Bearings   []string `json:"bearings,omitempty" jsonschema_description:"Left or front edge to the lines where joists rest, in order."`
	Insulation string   `json:"insulation,omitempty" jsonschema:"example=270 mm" jsonschema_description:"Depth of insulation over the ceiling."`
	Boarded    bool     `json:"boarded,omitempty" jsonschema_description:"Of a loft: boarded over."`
}

type fileFloor struct {
	fileJoists
	Solid   *bool      `json:"solid,omitempty" jsonschema_description:"Concrete, without joists."`
	Depth   string     `json:"depth,omitempty" jsonschema:"example=195 mm" jsonschema_description:"Depth of joists or slab."`
	Deck    string     `json:"deck,omitempty" jsonschema:"example=18 mm" jsonschema_description:"Thickness of what lies on the joists, covering included."`
	Boards  string     `json:"boards,omitempty" jsonschema:"enum=boards,enum=sheets,enum=solid,enum=none" jsonschema_description:"What lies on the joists: boards come up one by one, sheets have to be cut."`
	Ceiling string     `json:"ceiling,omitempty" jsonschema:"example=15 mm" jsonschema_description:"Thickness of the ceiling beneath."`
	Lining  string     `json:"lining,omitempty" jsonschema:"enum=plasterboard,enum=lath and plaster,enum=plaster,enum=none" jsonschema_description:"What the ceiling beneath is made of."`
	Fire    bool       `json:"fire,omitempty" jsonschema_description:"It separates fire compartments."`
	Parts   []filePart `json:"parts,omitempty" jsonschema_description:"Parts over or under single rooms that differ."`
}

type fileLoft struct {
	None   bool   `json:"none,omitempty" jsonschema_description:"There is no loft: a flat above, or a flat roof."`
	Height string `json:"height,omitempty" jsonschema:"example=2 m" jsonschema_description:"Greatest clear height over the joists."`
	Eaves  string `json:"eaves,omitempty" jsonschema:"example=300 mm" jsonschema_description:"Clear height at the eaves."`
	Hatch  string `json:"hatch,omitempty" jsonschema_description:"The room in whose ceiling the way in is."`
}

type fileUnder struct {
	Height string `json:"height,omitempty" jsonschema:"example=300 mm" jsonschema_description:"Clear height beneath the joists."`
	Access bool   `json:"access,omitempty" jsonschema_description:"A person can get in."`
}

type fileHouseBox struct {
	Room         string `json:"room" jsonschema:"minLength=1" jsonschema_description:"The room it serves."`
	On           string `json:"on,omitempty" jsonschema:"example=left,example=ceiling" jsonschema_description:"The wall (left, back, right or front of the room, the room behind it, or the wall's id), ceiling, above-ceiling or under-floor; with a door under right-of or left-of it may be left out."`
	FromLeft     string `json:"from-left,omitempty" jsonschema:"example=1.2 m" jsonschema_description:"Left corner, as seen by somebody who looks at the wall; on a ceiling, the left side of the room."`
	FromRight    string `json:"from-right,omitempty" jsonschema:"example=1.2 m" jsonschema_description:"Right corner, or right side of the room."`
	FromFront    string `json:"from-front,omitempty" jsonschema:"example=2 m" jsonschema_description:"On a ceiling: the front side of the room."`
	FromBack     string `json:"from-back,omitempty" jsonschema:"example=2 m" jsonschema_description:"On a ceiling: the back side of the room."`
	RightOf      string `json:"right-of,omitempty" jsonschema_description:"The opening it is to the right of."`
	LeftOf       string `json:"left-of,omitempty" jsonschema_description:"The opening it is to the left of."`
	By           string `json:"by,omitempty" jsonschema:"example=150 mm" jsonschema_description:"How far from the outer edge of that opening's lining or architrave."`
	Height       string `json:"height,omitempty" jsonschema:"example=1.2 m" jsonschema_description:"Over the finished floor."`
	BelowCeiling string `json:"below-ceiling,omitempty" jsonschema:"example=200 mm" jsonschema_description:"Below the finished ceiling."`
	LevelWith    string `json:"level-with,omitempty" jsonschema_description:"The box of the same storey that it is level with."`
}

type fileObstruction struct {
	Kind      string `json:"kind" jsonschema:"enum=nogging,enum=pipe,enum=cable,enum=steel,enum=flue,enum=brace,enum=other" jsonschema_description:"What it is."`
	Likely    string `json:"likely,omitempty" jsonschema:"example=40 %" jsonschema_description:"How likely it is there; certain if not given."`
	Hot       bool   `json:"hot,omitempty" jsonschema_description:"It gives off heat."`
	Wall      string `json:"wall,omitempty" jsonschema:"example=left" jsonschema_description:"The wall it is in, as for a box."`
	Floor     string `json:"floor,omitempty" jsonschema:"example=first" jsonschema_description:"Or the floor it is in."`
	Room      string `json:"room,omitempty" jsonschema_description:"The room it is measured from."`
	FromLeft  string `json:"from-left,omitempty" jsonschema:"example=1.2 m" jsonschema_description:"Left corner of the wall, or left side of the room, to its left edge."`
	Width     string `json:"width,omitempty" jsonschema:"example=50 mm" jsonschema_description:"Its extent to the right."`
	FromFront string `json:"from-front,omitempty" jsonschema:"example=1.2 m" jsonschema_description:"In a floor: front side of the room to its front edge."`
	Depth     string `json:"depth,omitempty" jsonschema:"example=50 mm" jsonschema_description:"In a floor: its extent to the back."`
	Bottom    string `json:"bottom,omitempty" jsonschema:"example=0 mm" jsonschema_description:"In a wall: its lower edge over the finished floor."`
	Top       string `json:"top,omitempty" jsonschema:"example=2.4 m" jsonschema_description:"In a wall: its upper edge over the finished floor."`
}

type fileSighting struct {
	Sign     string `json:"sign" jsonschema:"enum=stud,enum=nogging,enum=metal,enum=live,enum=pipe,enum=clear" jsonschema_description:"What was found; clear if nothing was."`
	Wall     string `json:"wall" jsonschema:"minLength=1,example=left" jsonschema_description:"The wall, as for a box."`
	Room     string `json:"room,omitempty" jsonschema_description:"The room it was found from."`
	FromLeft string `json:"from-left" jsonschema:"example=350 mm" jsonschema_description:"Left corner to its left edge."`
	Width    string `json:"width,omitempty" jsonschema:"example=50 mm" jsonschema_description:"Its extent to the right."`
	Height   string `json:"height,omitempty" jsonschema:"example=1.2 m" jsonschema_description:"At which height over the floor; all heights if not given."`
	Note     string `json:"note,omitempty" jsonschema_description:"Instrument and setting, or anything else."`
}
