package job

import (
	"errors"
	"slices"
	"strings"

	"strapper/rules"
	"strapper/rules/books"
	"strapper/unit"
	"strapper/wiring"
)

// Premises is what rules ask of the building and of the work as a whole. The
// zero value of a field is not stated.
type Premises struct {
	Nation   rules.Nation
	Kind     string // "house" or "flat"
	Storeys  int
	Built    int    // year, or that in which the surfaces were last finished
	Finish   string // of what is opened
	Crew     int    // how many work
	Climb    unit.Millimetre
	Existing rules.Fact // the installation was found adequate
	Notified rules.Fact
}

// The types below are sections of the job file that rules ask for.

type fileBook struct {
	ID      string `json:"id" jsonschema:"example=bs7671" jsonschema_description:"The book, by its id."`
	Edition string `json:"edition,omitempty" jsonschema:"example=2018+A4:2026" jsonschema_description:"The edition that the work is designed to; the current one if not given."`
}

type filePremises struct {
	Nation   string `json:"nation,omitempty" jsonschema:"enum=England,enum=Wales,enum=Scotland,enum=Northern Ireland" jsonschema_description:"Whose building regulations apply."`
	Kind     string `json:"kind,omitempty" jsonschema:"enum=house,enum=flat" jsonschema_description:"House or flat."`
	Storeys  int    `json:"storeys,omitempty" jsonschema:"minimum=1,maximum=40,example=2" jsonschema_description:"Storeys of the house."`
	Built    int    `json:"built,omitempty" jsonschema:"minimum=1000,maximum=2100,example=1972" jsonschema_description:"Year in which it was built, or in which the surfaces that are opened were last finished."`
	Finish   string `json:"finish,omitempty" jsonschema:"enum=plaster,enum=plasterboard,enum=textured coating,enum=insulating board,enum=cement board,enum=vinyl tiles,enum=timber" jsonschema_description:"What the ceilings and walls that are opened are finished with; the most doubtful of them."`
	Crew     int    `json:"crew,omitempty" jsonschema:"minimum=1,maximum=50,example=1" jsonschema_description:"How many work there at a time."`
	Climb    string `json:"climb,omitempty" jsonschema:"example=2.4 m" jsonschema_description:"Greatest height of the work above the floor."`
	Existing string `json:"existing,omitempty" jsonschema:"enum=adequate,enum=inadequate" jsonschema_description:"Whether rating, condition, earthing and bonding of what is there were looked at and found adequate for the addition."`
	Notified string `json:"notice,omitempty" jsonschema:"enum=given,enum=not given" jsonschema_description:"Whether notice was given to building control, or a registered installer certifies the work."`
}

// filePlaced is where a box is, as far as rules ask.
type filePlaced struct {
	Place string `json:"place,omitempty" jsonschema:"enum=room,enum=kitchen,enum=bathroom,enum=pool,enum=sauna,enum=loft,enum=outside,enum=garage" jsonschema_description:"Kind of room it is in, where the house section does not say; bathroom is any room with a bath or shower, outside is in the open, room is any other dry room."`
	Zone  string `json:"zone,omitempty" jsonschema:"enum=zone 0,enum=zone 1,enum=zone 2,enum=outside" jsonschema_description:"In a bathroom, the zone it stands in; a box with a zone is in a bathroom."`
}

// book finds the rule book that the file names.
func (r *reading) book() *rules.Book {
	f := r.text.Book
	if f == nil {
		f = &fileBook{}
	}
	b, err := books.Find(f.ID, f.Edition)
	var unknown *books.UnknownError
	switch {
	case errors.As(err, &unknown):
		r.report(r.at("book"), "there are: "+strings.Join(unknown.Have, "; "), "%v", strings.SplitN(err.Error(), ";", 2)[0])
	case err != nil:
		r.report(r.at("book"), "this is a fault of the program", "%v", err)
	}
	return b
}

func (r *reading) premises() Premises {
	f := r.text.Premises
	if f == nil {
		return Premises{}
	}
	p := Premises{Nation: rules.Nation(f.Nation), Kind: f.Kind, Storeys: f.Storeys, Built: f.Built, Finish: f.Finish, Crew: f.Crew}
	p.Climb, _ = quantity(r, f.Climb, unit.ParseMillimetre, 0, limits[unit.Millimetre]{"the height of the work", 0, 30 * unit.Metre}, "premises", "climb")
	p.Existing = fact(f.Existing, "adequate", "inadequate")
	p.Notified = fact(f.Notified, "given", "not given")
	return p
}

func fact(text, yes, no string) rules.Fact {
	switch text {
	case yes:
		return rules.Yes
	case no:
		return rules.No
	}
	return rules.Unknown
}

// placed notes where a box is; what is not given stays as it was found.
func (r *reading) placed(b *wiring.Box, f filePlaced, path ...string) {
	if f.Place != "" {
		b.Place = f.Place
	}
	if f.Zone != "" {
		b.Zone = f.Zone
	}
	if f.Zone != "" && b.Place == "" {
		b.Place = "bathroom" // only there are zones
	}
	if f.Zone != "" && b.Place != "bathroom" {
		r.report(r.at(append(slices.Clone(path), "zone")...), `write "place: bathroom", or leave the zone out`, "box %s has a zone, which only a bathroom has, and it is said to be elsewhere", b.ID)
	}
}
