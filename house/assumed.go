package house

import (
	"strapper/source"
	"strapper/unit"
)

// An assumption is a figure that is taken where the description gives none.
type assumption struct {
	name  string
	value MM
	from  source.Source
}

var (
	practice = source.Source{Authority: source.Practice, Cite: "common practice, no source"}
	memory   = source.Source{Authority: source.Memory, Cite: "from memory, to be confirmed"}
)

// What is assumed where nothing is said. Whoever relies on one is told by a
// note, and every one is listed by Figures.
var (
	storeyHeight   = assumption{"height of a storey, finished floor to ceiling", 2400, practice}
	joistDepth     = assumption{"depth of floor joists", 195, memory}
	joistBreadth   = assumption{"breadth of joists", 47, memory}
	joistSpacing   = assumption{"joists, centre to centre", 400, practice}
	joistFirst     = assumption{"first joist, its near face from the wall", 50, practice}
	tieDepth       = assumption{"depth of ceiling joists under a loft", 97, memory}
	deckDepth      = assumption{"floorboards", 18, practice}
	ceilingDepth   = assumption{"ceiling of plasterboard and skim", 15, practice}
	slabDepth      = assumption{"solid lowest floor", 150, practice}
	loftInsulation = assumption{"insulation over the highest ceiling", 270, memory}
	loftHeight     = assumption{"clear height of a loft at the ridge", 2000, practice}
	loftCrawl      = assumption{"clear height of a loft at the eaves", 300, practice}
	underHeight    = assumption{"crawl space beneath a suspended lowest floor", 300, practice}
	doorWidth      = assumption{"clear width of a door", 762, memory}
	doorHead       = assumption{"clear height of a door", 1981, memory}
	windowWidth    = assumption{"width of a window", 1200, practice}
	windowSill     = assumption{"sill of a window over the floor", 900, practice}
	windowHead     = assumption{"head of a window over the floor", 2100, practice}
	doorLining     = assumption{"door's clear opening to the outer edge of the architrave", 65, practice}
	switchHeight   = assumption{"middle of a switch over the floor", 1200, practice}
)

// The walls that are assumed where nothing is said.
const (
	assumedPartition = "stud-63"
	assumedOutside   = "cavity-270"
)

func assumptions() []assumption {
	return []assumption{
		storeyHeight, joistDepth, joistBreadth, joistSpacing, joistFirst, tieDepth, deckDepth, ceilingDepth,
		slabDepth, loftInsulation, loftHeight, loftCrawl, underHeight, doorWidth, doorHead, windowWidth,
		windowSill, windowHead, doorLining, switchHeight,
	}
}

// Figures lists every number the package assumes or checks against, and the
// usual builds of walls, with their sources. An error is a fault of the
// program's own data.
func Figures() ([]source.Figure, error) {
	var list []source.Figure
	for _, a := range assumptions() {
		list = append(list, source.Figure{Name: "house, if not given: " + a.name, Value: mm(a.value), Source: a.from})
	}
	list = append(list, cutFigures()...)
	builds, err := Builds()
	for _, b := range builds {
		list = append(list, b.figures()...)
	}
	return list, err
}

// or takes what was given, else the assumption, which is counted by note.
func (a assumption) or(given *MM, note func(assumption)) MM {
	if given != nil {
		return *given
	}
	note(a)
	return a.value
}

// likelihood is what was given, or certainty.
func likelihood(p *unit.Percent) unit.Percent {
	if p == nil {
		return 100
	}
	return *p
}
