package document

import (
	"strings"

	"strapper/engine"
	"strapper/internal/draw"
	"strapper/wiring"
)

// Pack lays out the job pack of a result of engine.Run. Its PDF and HTML
// methods write the sheets; equal results give equal bytes. A refused job says
// so on every page and has no steps, parts and readings: nobody should follow
// them, or test wiring that is known to be dangerous.
func Pack(r *engine.Result) *draw.Document {
	p := &pack{Result: r}
	d := &draw.Document{
		Title: r.Job.Title, Subject: "Job pack: wiring, order of work, readings to expect", Date: r.Job.Date,
		Footer: "Local rules and licensed practice come before this sheet. Stop if what is there differs from it.",
	}
	parts := []func() []draw.Block{
		p.front, p.cautions, p.isolation, p.cards, p.scheme, p.cableRoutes, p.fabric, p.positions, p.sizes,
		p.readings, p.taken, p.judged, p.takeOff, p.tags, p.sources,
	}
	if r.Forbidden() {
		d.Footer = refused + "."
		parts = []func() []draw.Block{p.front, p.cautions, p.isolation, p.cards, p.scheme, p.positions, p.judged, p.sources}
	}
	for _, part := range parts {
		d.Blocks = append(d.Blocks, part()...)
	}
	return d
}

type pack struct{ *engine.Result }

// insts are the installations in which names are looked up, the last first.
func (p *pack) insts() []*wiring.Installation {
	if p.Left == nil {
		return []*wiring.Installation{p.Found.Inst}
	}
	return []*wiring.Installation{p.Left.Inst, p.Found.Inst}
}

// oneLine takes line ends out of what a person wrote.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
