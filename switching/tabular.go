package switching

// tabular proves by truth table, a block of states at a time.
type tabular struct {
	l       layout
	n       *nets
	sources []source
	b       *block
}

func newTabular(l layout, n *nets, sources []source) *tabular {
	t := &tabular{l: l, n: n, sources: sources}
	t.b = newBlock(&t.l, n, len(sources))
	return t
}

func (t *tabular) gaveUp() bool { return false }

func (t *tabular) none() function { return t.l.newTable() }

func (t *tabular) every() function { return t.build(t.l.valid) }

func (t *tabular) literal(sw int, in uint8) function {
	return t.build(func(block, w int) uint64 { return t.l.literal(sw, in, block, w) & t.l.valid(block, w) })
}

func (t *tabular) build(word func(block, w int) uint64) function {
	f := t.l.newTable()
	for number := range t.l.blocks() {
		for w := range t.l.words {
			f.words[number*t.l.words+w] = word(number, w)
		}
	}
	return f
}

func (t *tabular) views(use func(view)) {
	for number := range t.l.blocks() {
		t.b.fill(number, t.sources)
		use(t.b)
	}
}

// run goes through all blocks, keeping the tables of lamps and coils and the
// uses of every net, and looking for the hazards.
func (t *tabular) run(p *Proof, hazards []hazard) {
	lit, coil := t.newTables(len(p.g.Loads)), t.newTables(len(p.g.Coils))
	t.views(func(view) {
		at := t.b.number * t.l.words
		for i := range lit {
			p.across(t.b, &p.consumers[i], lit[i].words[at:at+t.l.words])
		}
		for i := range coil {
			p.across(t.b, &p.consumers[len(lit)+i], coil[i].words[at:at+t.l.words])
		}
		for net := range p.net {
			p.recordNet(t.b, int32(net), &p.net[net])
		}
		for i := range hazards {
			p.look(t.b, &hazards[i])
		}
	})
	p.lit, p.coil = functions(lit), functions(coil)
}

func (t *tabular) newTables(n int) []table {
	list := make([]table, n)
	for i := range list {
		list[i] = t.l.newTable()
	}
	return list
}

func functions[F function](list []F) []function {
	out := make([]function, len(list))
	for i := range list {
		out[i] = list[i]
	}
	return out
}

// across is the table of states in which a line stands at one side of a
// consumer and a neutral at the other.
func (p *Proof) across(b *block, c *consumer, into []uint64) {
	for w := range into {
		into[w] = p.line(b, c.a, w)&p.neutral(b, c.b, w) | p.line(b, c.b, w)&p.neutral(b, c.a, w)
	}
}

// line is word w of the states in which any circuit's line stands at net.
func (p *Proof) line(b *block, net int32, w int) (t uint64) {
	for i := range p.g.Origins {
		t |= b.of(p.lineOf(i), net)[w]
	}
	return t
}

// neutral is word w of the states in which any circuit's neutral stands at net.
func (p *Proof) neutral(b *block, net int32, w int) (t uint64) {
	for i := range p.g.Origins {
		t |= b.of(p.neutralOf(i), net)[w]
	}
	return t
}

func (p *Proof) recordNet(b *block, net int32, use *netUse) {
	for w, valid := range b.valid {
		l, n := p.line(b, net, w), p.neutral(b, net, w)
		use.everL = use.everL || l != 0
		use.everN = use.everN || n != 0
		use.notL = use.notL || l != valid
		use.everE = use.everE || b.of(p.earth(), net)[w] != 0
	}
	for i := range p.g.Origins {
		if use.circuits>>i&1 == 0 && (anySet(b.of(p.lineOf(i), net)) || anySet(b.of(p.neutralOf(i), net))) {
			use.circuits |= 1 << i
		}
	}
}
