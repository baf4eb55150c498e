package sat

// pairwise is up to how many literals every pair gets a clause.
const pairwise = 6

// AtMostOne adds clauses that let at most one of the literals be true. One that
// is listed twice counts twice, and so must be false. Up to six literals every
// pair gets a clause. More are set out in rows and columns, at most one of
// which may be used each: 2n clauses and about 2√n hidden variables for n
// literals (J. Chen, "A New SAT Encoding of the At-Most-One Constraint",
// ModRef 2010; from memory, to be confirmed).
func (s *Solver) AtMostOne(l ...Lit) { s.atMostOne(s.lits(l)) }

func (s *Solver) atMostOne(l []lit) {
	if len(l) <= pairwise {
		for i, a := range l {
			for _, b := range l[:i] {
				s.add([]lit{a.not(), b.not()})
			}
		}
		return
	}
	columns := 1
	for columns*columns < len(l) {
		columns++
	}
	row := s.hidden((len(l) + columns - 1) / columns)
	column := s.hidden(columns)
	for i, a := range l {
		s.add([]lit{a.not(), row[i/columns]})
		s.add([]lit{a.not(), column[i%columns]})
	}
	s.atMostOne(row)
	s.atMostOne(column)
}

// hidden makes variables that the caller does not see.
func (s *Solver) hidden(n int) []lit {
	list := make([]lit, n)
	for i := range list {
		list[i] = lit(2 * s.newVariable())
	}
	return list
}

// tally counts how many of some literals are true: out[j] must be true if more
// than j are. Outputs are made as they are wanted (O. Bailleux, Y. Boufkhad,
// "Efficient CNF Encoding of Boolean Cardinality Constraints", CP 2003, LNCS
// 2833, 108; growing, R. Martins et al., "Incremental Cardinality Constraints
// for MaxSAT", CP 2014, LNCS 8656, 531; from memory, to be confirmed). Nothing
// follows from a tally about the literals it counts.
type tally struct {
	size        int
	out         []lit
	left, right *tally
}

func newTally(l []lit) *tally {
	if len(l) == 1 {
		return &tally{size: 1, out: l}
	}
	half := len(l) / 2
	return &tally{size: len(l), left: newTally(l[:half]), right: newTally(l[half:])}
}

// extend makes outputs up to the n-th, where there are so many literals. It
// takes new variables from fresh and gives clauses to add.
func (t *tally) extend(n int, fresh func() lit, add func(...lit)) {
	n = min(n, t.size)
	if len(t.out) >= n {
		return
	}
	t.left.extend(n, fresh, add)
	t.right.extend(n, fresh, add)
	for j := len(t.out) + 1; j <= n; j++ {
		out := fresh()
		if j > 1 {
			add(out.not(), t.out[j-2])
		}
		t.out = append(t.out, out)
		for a := max(0, j-t.right.size); a <= min(j, t.left.size); a++ {
			switch b := j - a; {
			case a == 0:
				add(t.right.out[b-1].not(), out)
			case b == 0:
				add(t.left.out[a-1].not(), out)
			default:
				add(t.left.out[a-1].not(), t.right.out[b-1].not(), out)
			}
		}
	}
}
