package job

import "encoding/json"

// The types below are the job file as written. The JSON Schema is generated
// from them; their order and descriptions are what an editor shows. Ids are
// the keys of maps; the order of entries is taken from the text (see value).

type fileJob struct {
	Job      fileHeading            `json:"job" jsonschema_description:"What the work is and for whom."`
	Supply   fileSupply             `json:"supply" jsonschema_description:"The electricity supply at the consumer unit."`
	Circuits map[string]fileCircuit `json:"circuits" jsonschema_description:"Final circuits that the work touches, by id. A circuit gives its board the terminals id.L, id.N and id.E."`
	House    *fileHouse             `json:"house,omitempty" jsonschema_description:"The fabric of the house, for cable routes, holes and lengths. A job without it keeps to stated lengths."`
	Boxes    map[string]fileBox     `json:"boxes" jsonschema_description:"Every place where cables end, as found: back boxes, ceiling points, joint boxes, the consumer unit."`
	Cables   map[string]fileCable   `json:"cables,omitempty" jsonschema_description:"Cables between boxes, as found."`
	Joints   map[string][][]string  `json:"joints,omitempty" jsonschema_description:"For each box, the joints in it as found. A joint is a list of ends that are electrically one, each written item.terminal or cable.core. One core alone is parked in a connector."`
	Patterns []filePattern          `json:"patterns,omitempty" jsonschema_description:"Usual as-found arrangements, expanded into boxes, cables and joints and added to those written out."`
	Left     *fileLeft              `json:"left,omitempty" jsonschema_description:"The wiring as left: only what changes."`
	Want     []fileWant             `json:"want,omitempty" jsonschema_description:"The control asked for, once the work is done."`
	Could    *fileCould             `json:"could,omitempty" jsonschema_description:"What could be added, for the search for a change: boxes at new places, and runs that a new cable could take."`
	Limits   *fileLimits            `json:"limits,omitempty" jsonschema_description:"What the search for a change must leave alone."`
	Choose   string                 `json:"choose,omitempty" jsonschema_description:"The way to carry out, by its name as the change command prints it; the one of least effort if not given."`
	Prices   string                 `json:"prices,omitempty" jsonschema:"example=prices.csv" jsonschema_description:"The price list to reckon with, a CSV or XLSX file named from where this file is."`

	Book        *fileBook                 `json:"book,omitempty" jsonschema_description:"The rule book that the work is judged by; the current BS 7671 if not given."`
	Premises    *filePremises             `json:"premises,omitempty" jsonschema_description:"The building and the work in it, so far as rules ask."`
	Instruments map[string]fileInstrument `json:"instruments,omitempty" jsonschema_description:"Test instruments by id, one for each function whose accuracy differs."`
	Readings    []fileReading             `json:"readings,omitempty" jsonschema_description:"Readings that were taken once the work was done."`
	Unknown     *fileUnknown              `json:"unknown,omitempty" jsonschema_description:"Cable ends whose other ends are not known yet, for find to work out by tests."`
	Seen        []fileSeen                `json:"seen,omitempty" jsonschema_description:"What was seen and read while looking for a fault in the wiring as left, or as found if nothing changes, in the order in which it was noted."`
}

type fileHeading struct {
	Title   string `json:"title" jsonschema:"minLength=1" jsonschema_description:"The work in a few words, as on a quotation."`
	Client  string `json:"client,omitempty" jsonschema_description:"For whom the work is done."`
	Address string `json:"address,omitempty" jsonschema_description:"Where the work is done."`
	Date    string `json:"date,omitempty" jsonschema:"example=2026-11-25" jsonschema_description:"Date of the survey, as year-month-day."`
	Note    string `json:"note,omitempty" jsonschema_description:"Anything to be printed with the job."`
}

type fileSupply struct {
	Voltage     string `json:"voltage,omitempty" jsonschema:"example=230 V" jsonschema_description:"Nominal voltage, line to neutral; 230 V if not given."`
	Frequency   string `json:"frequency,omitempty" jsonschema:"example=50 Hz" jsonschema_description:"Nominal frequency; 50 Hz if not given."`
	Earthing    string `json:"earthing" jsonschema:"enum=TN-S,enum=TN-C-S,enum=TT" jsonschema_description:"Type of earthing of the supply."`
	Ze          string `json:"Ze" jsonschema:"example=0.35 ohm" jsonschema_description:"External earth fault loop impedance, as measured."`
	Temperature string `json:"temperature,omitempty" jsonschema:"example=20 C" jsonschema_description:"Temperature of the cables when the tests are made; 20 C if not given."`
	Fault       string `json:"fault-current,omitempty" jsonschema:"example=1.2 kA" jsonschema_description:"Prospective fault current measured at the consumer unit, the greater of line to neutral and line to earth; leave out if not measured."`
}

type fileCircuit struct {
	Title  string `json:"title,omitempty" jsonschema_description:"Name on the circuit chart."`
	Device string `json:"device" jsonschema:"example=mcb-b6,example=rewirable-5" jsonschema_description:"Protective device, by its id in the catalogue."`
	RCD    string `json:"rcd,omitempty" jsonschema:"example=rcd-30" jsonschema_description:"Residual current device before the circuit, by its id; leave out if there is none."`
	Board  string `json:"board" jsonschema:"minLength=1" jsonschema_description:"The box that is the consumer unit the circuit leaves."`

	Also     []fileServed `json:"also,omitempty" jsonschema_description:"What else loses its supply when the circuit is off and must be thought of first."`
	Other    string       `json:"other-load,omitempty" jsonschema:"example=300 W" jsonschema_description:"Lighting on the circuit that this file does not draw, as its demand."`
	Breaking string       `json:"breaking,omitempty" jsonschema:"example=6 kA" jsonschema_description:"Breaking capacity marked on the device; what its standard gives, or not assessed, if not given."`
	RCDType  string       `json:"rcd-type,omitempty" jsonschema:"enum=AC,enum=A,enum=F,enum=B" jsonschema_description:"Type marked on the residual current device."`
}

type fileServed struct {
	What string `json:"what" jsonschema:"minLength=1" jsonschema_description:"In words: freezer in the garage."`
	Kind string `json:"kind,omitempty" jsonschema:"enum=fridge,enum=alarm,enum=medical,enum=heating" jsonschema_description:"What must be thought of; leave out for anything else."`
}

type fileBox struct {
	Kind  string               `json:"kind" jsonschema:"example=plaster-1g-25,example=ceiling-point" jsonschema_description:"Kind of box, by its id in the catalogue."`
	Title string               `json:"title,omitempty" jsonschema_description:"What the household calls it."`
	Fit   map[string]*fileItem `json:"fit,omitempty" jsonschema_description:"Accessories fitted in or on the box, by id."`
	filePlaced
}

// fileItem may also be written as its kind alone.
type fileItem struct {
	Kind  string `json:"kind" jsonschema:"example=one-way,example=two-way,example=ceiling-rose" jsonschema_description:"Kind of accessory, by its id in the catalogue."`
	Lamp  string `json:"lamp,omitempty" jsonschema:"example=led,example=resistive" jsonschema_description:"What burns in it, by its id in the catalogue; the usual one for the accessory if not given."`
	Power string `json:"power,omitempty" jsonschema:"example=9 W" jsonschema_description:"Power of the lamp; needed where a lamp is named."`
	IP    string `json:"ip,omitempty" jsonschema:"example=IP44" jsonschema_description:"Its IP code, from the label or the maker's sheet."`
}

// UnmarshalJSON accepts the short form. A wrong type is left to the schema.
func (f *fileItem) UnmarshalJSON(text []byte) error {
	if json.Unmarshal(text, &f.Kind) == nil {
		return nil
	}
	type long fileItem
	return ignoreType(json.Unmarshal(text, (*long)(f)))
}

type fileCable struct {
	Kind      string `json:"kind" jsonschema:"example=te-1.0,example=3ce-1.0" jsonschema_description:"Kind of cable, by its id in the catalogue."`
	From      string `json:"from" jsonschema:"minLength=1" jsonschema_description:"The box where it starts."`
	To        string `json:"to" jsonschema:"minLength=1" jsonschema_description:"The box where it ends."`
	Length    string `json:"length,omitempty" jsonschema:"example=7.5 m" jsonschema_description:"Length along its route, measured or estimated. May be left out where the house section places both boxes: it is then worked out."`
	Tolerance string `json:"tolerance,omitempty" jsonschema:"example=1 m" jsonschema_description:"How far the true length may be from the length given; none if not given."`
	Via       string `json:"via,omitempty" jsonschema_description:"Its route in words."`

	Laid []fileStretch `json:"laid,omitempty" jsonschema_description:"How it lies, stretch by stretch; the lowest rating is taken for what is not known."`
}

type fileStretch struct {
	How        string `json:"how" jsonschema:"enum=clipped,enum=ceiling-thin,enum=ceiling-thick,enum=stud-touching,enum=stud-inside,enum=conduit-in-wall,enum=conduit,enum=surrounded" jsonschema_description:"clipped to a surface or in plaster; above a ceiling under thin insulation (up to 100 mm) or thick; in an insulated stud wall touching its inner face or inside; in conduit in an insulated wall or on one; wholly surrounded by insulation."`
	Length     string `json:"length,omitempty" jsonschema:"example=3 m" jsonschema_description:"Of the stretch; the rest of the cable if not given."`
	Ambient    string `json:"ambient,omitempty" jsonschema:"example=35 C" jsonschema_description:"Temperature of the air round it; 30 C if not given."`
	Bunched    int    `json:"bunched,omitempty" jsonschema:"minimum=1,maximum=20,example=3" jsonschema_description:"Loaded circuits that touch there, this one counted; 1 if not given."`
	Surrounded string `json:"surrounded,omitempty" jsonschema:"example=200 mm" jsonschema_description:"Of how: surrounded, the length within the insulation; all of the stretch if not given."`
}

type fileLeft struct {
	Boxes  map[string]fileLeftBox `json:"boxes,omitempty" jsonschema_description:"New boxes, and boxes in which something is fitted or taken out."`
	Cables map[string]fileCable   `json:"cables,omitempty" jsonschema_description:"New cables."`
	Remove fileRemove             `json:"remove,omitzero" jsonschema_description:"What is taken out or abandoned."`
	Joints map[string][][]string  `json:"joints,omitempty" jsonschema_description:"Joints as left. A box named here is given whole; boxes not named stay as found."`
}

type fileLeftBox struct {
	Kind  string               `json:"kind,omitempty" jsonschema:"example=plaster-1g-35" jsonschema_description:"Kind of box; needed for a new one."`
	Title string               `json:"title,omitempty" jsonschema_description:"What the household calls it."`
	Fit   map[string]*fileItem `json:"fit,omitempty" jsonschema_description:"Accessories by id: added, or exchanged for what was found under that id; null takes one out."`
	filePlaced
}

type fileRemove struct {
	Boxes  []string `json:"boxes,omitempty" jsonschema_description:"Boxes that are no longer there."`
	Cables []string `json:"cables,omitempty" jsonschema_description:"Cables disconnected at both ends."`
}

type fileWant struct {
	Lamps   []string `json:"lamps" jsonschema:"minItems=1" jsonschema_description:"Lamps that act as one, each written box.item."`
	From    []string `json:"from,omitempty" jsonschema:"minItems=1" jsonschema_description:"Switches that control them, each written box.item, once the work is done. Give from or at."`
	At      []fileAt `json:"at,omitempty" jsonschema:"minItems=1" jsonschema_description:"Boxes from which they are to be worked, found or new: the program looks for ways to wire it. Give from or at."`
	Off     []string `json:"off,omitempty" jsonschema_description:"Master switches that hold the lamps off while in their first position; with at, the boxes they are in."`
	Circuit string   `json:"circuit,omitempty" jsonschema_description:"With at: the circuit that is to feed the lamps, where it is not the one that does now."`
	Rule    string   `json:"rule,omitempty" jsonschema:"enum=toggle,enum=any,enum=all" jsonschema_description:"toggle: moving any one switch changes the lamps. any: lit while at least one switch is out of its first position. all: lit while all are. toggle if not given."`
}

// fileAt may also be written as its box alone, or as box.item.
type fileAt struct {
	Box     string `json:"box" jsonschema:"minLength=1" jsonschema_description:"The box, found or one that could be added; box.item for one of several switches found in it."`
	Fit     string `json:"fit,omitempty" jsonschema:"example=dimmer,example=pir" jsonschema_description:"The kind of switch, dimmer or sensor to be fitted, by its id in the catalogue; left to the program if not given."`
	Keep    bool   `json:"keep,omitempty" jsonschema_description:"The switch found there stays."`
	Neutral bool   `json:"neutral,omitempty" jsonschema_description:"A neutral is wanted in the box, for a switch that needs one."`
}

// UnmarshalJSON accepts the short form. A wrong type is left to the schema.
func (f *fileAt) UnmarshalJSON(text []byte) error {
	if json.Unmarshal(text, &f.Box) == nil {
		return nil
	}
	type long fileAt
	return ignoreType(json.Unmarshal(text, (*long)(f)))
}

type fileCould struct {
	Boxes  map[string]fileNewBox `json:"boxes,omitempty" jsonschema_description:"Boxes at places where there is none."`
	Cables map[string]fileRun    `json:"cables,omitempty" jsonschema_description:"Runs that a new cable could take."`
}

type fileNewBox struct {
	Kind  string `json:"kind" jsonschema:"example=plaster-1g-35" jsonschema_description:"Kind of box, by its id in the catalogue."`
	Title string `json:"title,omitempty" jsonschema_description:"What the household calls it."`
}

type fileRun struct {
	Kinds     []string `json:"kinds" jsonschema:"minItems=1,example=te-1.0,example=3ce-1.0" jsonschema_description:"Kinds of cable it could be, by their ids in the catalogue."`
	From      string   `json:"from" jsonschema:"minLength=1" jsonschema_description:"The box where it would start."`
	To        string   `json:"to" jsonschema:"minLength=1" jsonschema_description:"The box where it would end."`
	Length    string   `json:"length,omitempty" jsonschema:"example=7.5 m" jsonschema_description:"Length along its route. May be left out where the house section places both boxes: the best way through the house then gives it, and the time and the walls opened, if those are left out as well."`
	Tolerance string   `json:"tolerance,omitempty" jsonschema:"example=1 m" jsonschema_description:"How far the true length may be from the length given."`
	Time      string   `json:"time,omitempty" jsonschema:"example=45 min" jsonschema_description:"Time to run it, ends not counted."`
	Walls     []string `json:"walls,omitempty" jsonschema_description:"Finished walls that have to be opened for it, by any name; a wall named by several runs is opened once."`
	Replaces  string   `json:"replaces,omitempty" jsonschema_description:"A cable found that is drawn out to make room for it."`
	Via       string   `json:"via,omitempty" jsonschema_description:"Its route in words."`
}

type fileLimits struct {
	Closed   []string   `json:"closed,omitempty" jsonschema_description:"Boxes that are not to be opened."`
	Walls    []string   `json:"walls,omitempty" jsonschema_description:"Walls that are not to be cut, as named under could: cables: walls, or by the ids they have in the house."`
	Cables   []string   `json:"cables,omitempty" jsonschema_description:"Runs of could: cables that are not to be used after all."`
	Switches []string   `json:"switches,omitempty" jsonschema_description:"Kinds of switch that may be newly fitted; the usual ones if not given."`
	Doubtful []string   `json:"doubtful,omitempty" jsonschema_description:"Cables found whose cores are used for something else only if it cannot be helped."`
	Stock    *fileStock `json:"stock,omitempty" jsonschema_description:"What is on the van. What is not listed is not there."`
}

type fileStock struct {
	Cables   map[string]string `json:"cables,omitempty" jsonschema_description:"Length of each kind of cable, such as te-1.0: 20 m."`
	Switches map[string]int    `json:"switches,omitempty" jsonschema_description:"Number of each kind of switch."`
}

type filePattern struct {
	Use       string      `json:"use" jsonschema:"enum=loop-in-ceiling,enum=loop-in-switch,enum=joint-box,enum=two-way-strappers,enum=two-way-three-core,enum=intermediate" jsonschema_description:"The arrangement."`
	Name      string      `json:"name" jsonschema:"pattern=^[A-Za-z0-9][A-Za-z0-9_-]*$" jsonschema_description:"Begins the ids of all that the pattern adds: stairs gives stairs-point, stairs-feed …"`
	Circuit   string      `json:"circuit,omitempty" jsonschema_description:"The circuit that feeds it from its board. Give this or previous."`
	Previous  string      `json:"previous,omitempty" jsonschema_description:"The pattern, above this one, whose point the feed comes from. Give this or circuit."`
	Colours   string      `json:"colours,omitempty" jsonschema:"enum=harmonised,enum=old" jsonschema_description:"Core colours: harmonised (from 2004) or old; harmonised if not given."`
	Size      string      `json:"size,omitempty" jsonschema:"enum=1.0 mm2,enum=1.5 mm2" jsonschema_description:"Conductor size; 1.0 mm2 if not given."`
	Point     *filePlace  `json:"point,omitempty" jsonschema_description:"The lighting point."`
	Joint     *filePlace  `json:"joint,omitempty" jsonschema_description:"The joint box, of use: joint-box."`
	Switches  []filePlace `json:"switches,omitempty" jsonschema_description:"The switch boxes: one for a one-way arrangement, two for two-way, three or more for intermediate, in the order in which the cable passes them."`
	Accessory string      `json:"accessory,omitempty" jsonschema:"example=ceiling-rose" jsonschema_description:"The accessory at the point; a ceiling rose if not given."`
	Lamp      string      `json:"lamp,omitempty" jsonschema:"example=led" jsonschema_description:"What burns at the point."`
	Power     string      `json:"power,omitempty" jsonschema:"example=9 W" jsonschema_description:"Power of the lamp; needed where a lamp is named."`
	Feed      string      `json:"feed" jsonschema:"example=12 m" jsonschema_description:"Length of the cable that brings the supply."`
	Drop      string      `json:"drop,omitempty" jsonschema:"example=5 m" jsonschema_description:"Length of the cable from the point or joint box to the first switch; not where the supply comes to the switch."`
	LampCable string      `json:"lamp-cable,omitempty" jsonschema:"example=4 m" jsonschema_description:"Length of the cable to the lamp: for loop-in-switch, joint-box and two-way-strappers."`
	Straps    []string    `json:"straps,omitempty" jsonschema_description:"Lengths of the cables from each switch to the next: one for two-way, two or more for intermediate."`
	Tolerance string      `json:"tolerance,omitempty" jsonschema:"example=1 m" jsonschema_description:"How far each true length may be from that given."`
}

// filePlace may also be written as its title alone.
type filePlace struct {
	Kind  string `json:"kind,omitempty" jsonschema:"example=plaster-1g-25" jsonschema_description:"Kind of box, by its id in the catalogue; the usual one if not given."`
	Title string `json:"title,omitempty" jsonschema_description:"What the household calls it."`
}

// UnmarshalJSON accepts the short form. A wrong type is left to the schema.
func (f *filePlace) UnmarshalJSON(text []byte) error {
	if json.Unmarshal(text, &f.Title) == nil {
		return nil
	}
	type long filePlace
	return ignoreType(json.Unmarshal(text, (*long)(f)))
}
