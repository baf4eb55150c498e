package sat

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
)

func TestPigeonsDoNotFit(t *testing.T) {
	for n := 1; n <= 7; n++ {
		f := pigeons(n)
		if got := f.solver().Solve(); got != Unsat {
			t.Errorf("%d pigeons in %d holes: %v", n+1, n, got)
		}
		f.clauses = f.clauses[:len(f.clauses)-1] // one pigeon may stay out
		s := f.solver()
		if got := s.Solve(); got != Sat || f.price(s) != 0 {
			t.Errorf("%d pigeons in %d holes: %v", n, n, got)
		}
	}
}

// Each pigeon is assumed to be in: any n fit into n holes, so the only
// irreducible clash is of all.
func TestPigeonsClash(t *testing.T) {
	for n := 2; n <= 5; n++ {
		s := New()
		var in []Lit
		rows := make([][]Lit, n)
		for range n + 1 {
			is := s.Var()
			in = append(in, is)
			c := []Lit{is.Not()}
			for h := range n {
				v := s.Var()
				c = append(c, v)
				rows[h] = append(rows[h], v)
			}
			s.Add(c...)
		}
		for _, row := range rows {
			s.AtMostOne(row...)
		}
		if got := s.Shrink(in); !slices.Equal(got, in) {
			t.Errorf("%d holes: the clash is %v, want %v", n, got, in)
		}
		if got := s.Shrink(in[1:]); !slices.Equal(got, in[1:]) || s.Solve(in[1:]...) != Sat {
			t.Errorf("%d holes: %v, which do not clash, came back as %v", n, in[1:], got)
		}
	}
}

// exclusive adds clauses that make z true exactly when a and b differ.
func exclusive(s *Solver, a, b Lit) Lit {
	z := s.Var()
	s.Add(-a, -b, -z)
	s.Add(a, b, -z)
	s.Add(a, -b, z)
	s.Add(-a, b, z)
	return z
}

// Parity of n inputs taken from the left and from the right is the same, and
// odd for half of all inputs.
func TestParity(t *testing.T) {
	for n := 2; n <= 24; n++ {
		s := New()
		var in []Lit
		for range n {
			in = append(in, s.Var())
		}
		left, right := in[0], in[n-1]
		for i := 1; i < n; i++ {
			left, right = exclusive(s, left, in[i]), exclusive(s, right, in[n-1-i])
		}
		if s.Solve(left, -right) != Unsat || s.Solve(-left, right) != Unsat {
			t.Errorf("parity of %d differs by direction", n)
		}
		if s.Solve(left, right) != Sat {
			t.Errorf("parity of %d is never odd", n)
		}
		if n > 8 {
			continue
		}
		s.Add(left)
		if got := models(s, in); got != 1<<(n-1) {
			t.Errorf("parity of %d is odd %d times, want %d", n, got, 1<<(n-1))
		}
	}
}

// models counts the assignments of some literals that have models, by ruling
// out one after the other.
func models(s *Solver, of []Lit) int {
	n := 0
	for ; s.Solve() == Sat; n++ {
		other := make([]Lit, len(of))
		for i, l := range of {
			other[i] = l
			if s.Value(l) {
				other[i] = -l
			}
		}
		s.Add(other...)
	}
	return n
}

// The number of ways to set n queens: OEIS A000170.
func TestQueens(t *testing.T) {
	for n, want := range map[int]int{1: 1, 2: 0, 3: 0, 4: 2, 5: 10, 6: 4, 7: 40, 8: 92} {
		s := New()
		lines := map[string][]Lit{}
		var all []Lit
		for x := range n {
			var column []Lit
			for y := range n {
				q := s.Var()
				all, column = append(all, q), append(column, q)
				for name, i := range map[string]int{"row": y, "up": x - y, "down": x + y} {
					name += strconv.Itoa(i)
					lines[name] = append(lines[name], q)
				}
			}
			s.Add(column...)
			s.AtMostOne(column...)
		}
		for _, line := range lines {
			s.AtMostOne(line...)
		}
		if got := models(s, all); got != want {
			t.Errorf("%d queens: %d ways, want %d", n, got, want)
		}
	}
}

func TestAtMostOne(t *testing.T) {
	for n := 1; n <= 40; n++ {
		s := New()
		var of []Lit
		for i := range n {
			l := s.Var()
			if i%3 == 2 {
				l = -l
			}
			of = append(of, l)
		}
		s.AtMostOne(of...)
		if got := models(s, of); got != n+1 {
			t.Errorf("at most one of %d: %d models, want %d", n, got, n+1)
		}
	}
	for _, n := range []int{2, 12} {
		s := New()
		of := make([]Lit, n)
		for i := range of {
			of[i] = s.Var()
		}
		of[n-1] = of[0]
		s.AtMostOne(of...)
		if s.Solve(of[0]) != Unsat || s.Solve(-of[0]) != Sat {
			t.Errorf("at most one of %d: a literal listed twice may be true", n)
		}
	}
}

// A tally's outputs follow from its inputs and say nothing about them.
func TestTally(t *testing.T) {
	for size := 2; size <= 9; size++ {
		s := New()
		var in []Lit
		for range size {
			in = append(in, s.Var())
		}
		y := newTally(s.lits(in))
		for n := 1; n <= size; n++ {
			y.extend(n, func() lit { return s.hidden(1)[0] }, func(c ...lit) { s.add(c) })
			for at := range uint(1) << size {
				var assume []Lit
				count := 0
				for i, l := range in {
					if at>>i&1 == 0 {
						l = -l
					} else {
						count++
					}
					assume = append(assume, l)
				}
				s.assume = append(s.lits(assume), y.out[n-1].not())
				if got, want := s.search(-1), count < n; (got == Sat) != want {
					t.Fatalf("%d of %d true: less than %d is %v", count, size, n, got)
				}
			}
		}
	}
}

func TestPhase(t *testing.T) {
	s := New()
	var want []Lit
	for i := range 50 {
		l := s.Var()
		if i%3 == 0 {
			l = l.Not()
		}
		s.Phase(l)
		want = append(want, l)
	}
	s.Add(want[0], want[1])
	if s.Solve() != Sat || slices.ContainsFunc(want, func(l Lit) bool { return !s.Value(l) }) {
		t.Error("variables that are free do not have the value preferred")
	}
}

// Hard formulas are stopped at every question asked, and solved afterwards.
func TestSolveStopped(t *testing.T) {
	for after := range 20 {
		s := pigeons(7).solver()
		left := after
		s.Stop = func() bool { left--; return left < 0 }
		if got := s.Solve(); got != Stopped {
			t.Errorf("stopped at question %d: %v", after, got)
		}
		s.Stop = nil
		if got := s.Solve(); got != Unsat || len(s.Core()) > 0 {
			t.Errorf("solved after having been stopped: %v, %v", got, s.Core())
		}
	}
}

func TestShrinkStopped(t *testing.T) {
	s := New()
	var l []Lit
	for range 10 {
		l = append(l, s.Var())
	}
	s.Add(-l[3], -l[4])
	s.Add(-l[5], -l[6], -l[7])
	s.Add(-l[1], -l[2], -l[8], -l[9])
	if got := s.Shrink(l); !slices.Equal(got, []Lit{l[3], l[4]}) && len(got) != 3 && len(got) != 4 {
		t.Errorf("got %v", got)
	}
	questions := 0
	s.Stop = func() bool { questions++; return questions > 1 }
	if got := s.Shrink(l); len(got) == 0 {
		t.Error("a clash was lost when stopped")
	} else if s.Stop = nil; s.Solve(got...) != Unsat {
		t.Errorf("%v do not clash", got)
	}
}

func TestOddities(t *testing.T) {
	s := New()
	if s.Solve() != Sat {
		t.Error("no clauses: unsatisfiable")
	}
	if s.Value(7) || !s.Value(-7) {
		t.Error("a variable made since the last model is not false")
	}
	if l := s.Var(); l != 8 {
		t.Errorf("the variable after 7 is %d", l)
	}
	if got := s.Solve(3, -4, 4, 3); got != Unsat || !slices.Equal(s.Core(), []Lit{-4, 4}) {
		t.Errorf("4 and its opposite assumed: %v, %v", got, s.Core())
	}
	s.Add(5)
	if got := s.Solve(1, -5); got != Unsat || !slices.Equal(s.Core(), []Lit{-5}) {
		t.Errorf("the opposite of a fact assumed: %v, %v", got, s.Core())
	}
	s.Add()
	if got := s.Solve(1); got != Unsat || len(s.Core()) != 0 {
		t.Errorf("the empty clause: %v, %v", got, s.Core())
	}
	if out := s.Minimise(Search{Soft: []Soft{{1, 1}}}); out.Status != Unsat {
		t.Errorf("the empty clause: %v", out)
	}
	defer func() {
		if recover() == nil {
			t.Error("0 was taken for a literal")
		}
	}()
	s.Add(0)
}

// Long runs must forget clauses and move the rest together, or the rest of
// these tests proves nothing about either.
func TestClausesAreForgotten(t *testing.T) {
	s := pigeons(8).solver()
	if got := s.Solve(); got != Unsat {
		t.Fatal(got)
	}
	if s.reductions < 10 || int64(len(s.learnt)) > s.conflicts/4 {
		t.Errorf("%d conflicts, %d reductions, %d clauses left", s.conflicts, s.reductions, len(s.learnt))
	}
	if 4*s.waste > len(s.mem) {
		t.Errorf("%d of %d words are gaps", s.waste, len(s.mem))
	}
}

// A clause that is the reason of something is not forgotten, and is found again
// after the others have been moved together.
func TestReasonsAreKept(t *testing.T) {
	s := New()
	l := s.hidden(40)
	learnt := func(c ...lit) cref {
		ref := s.store.put(c, flagLearnt)
		s.rate(ref, 20-int32(len(c)), 0) // the first to go
		s.attach(ref)
		return ref
	}
	for i := 10; i < 30; i++ {
		learnt(l[i], l[i+1], l[i+2], l[i+3])
	}
	reason := learnt(l[0], l[1], l[2])
	s.decide(l[1].not())
	s.decide(l[2].not())
	if s.propagate() != none || s.vals[l[0]] != yes {
		t.Fatal("the clause forces nothing")
	}
	s.reduce()
	after := s.at[l[0].variable()].reason
	if after == reason || s.gone(after) {
		t.Fatalf("the reason was at %d and is at %d: nothing was moved, or it is lost", reason, after)
	}
	got := slices.Sorted(slices.Values(s.store.clause(after)))
	if !slices.Equal(got, l[:3]) {
		t.Errorf("the reason is now %v, not %v", got, l[:3])
	}
}

// A model that was there from the start must satisfy every clause learnt and
// every fact found, whatever was assumed meanwhile.
func TestWhatIsLearntFollows(t *testing.T) {
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 17))
		n := 170
		s := New()
		for clauses := 0; clauses < n*42/10; {
			if c := threes(r, n, 1).clauses[0]; c[0] > 0 || c[1] > 0 || c[2] > 0 {
				s.Add(c...) // true if all variables are
				clauses++
			}
		}
		for i := range 5 {
			s.Solve(Lit(-1-i), Lit(-10-i), Lit(-20-i), Lit(30+i))
		}
		if s.reductions < 3 || len(s.learnt) == 0 {
			t.Errorf("seed %d: %d reductions, %d clauses left: nothing is shown", seed, s.reductions, len(s.learnt))
		}
		positive := func(l lit) bool { return l&1 == 0 }
		for _, c := range s.learnt {
			if !slices.ContainsFunc(s.store.clause(c), positive) {
				t.Fatalf("seed %d: learnt what does not follow", seed)
			}
		}
		if slices.ContainsFunc(s.trail, func(l lit) bool { return !positive(l) }) {
			t.Fatalf("seed %d: found a fact that does not follow", seed)
		}
	}
}

func TestTheSameEveryTime(t *testing.T) {
	run := func() (counts, []int8, Outcome) {
		r := rand.New(rand.NewPCG(1, 12))
		f := relaxed(threes(r, 30, 170), func() int64 { return 1 + r.Int64N(4) })
		s := f.solver()
		out := s.Minimise(Search{Soft: f.soft})
		return s.counts, s.model, out
	}
	counts1, model1, out1 := run()
	counts2, model2, out2 := run()
	if counts1 != counts2 || out1 != out2 || !slices.Equal(model1, model2) {
		t.Errorf("%+v and %+v, %v and %v", counts1, counts2, out1, out2)
	}
}

// Under the race detector this shows that solvers share nothing.
func TestSeveralAtOnce(t *testing.T) {
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			if got := pigeons(6).solver().Solve(); got != Unsat {
				t.Error(got)
			}
		})
	}
	group.Wait()
}

// dimacs reads the usual text form of clauses: "c" comments, a "p cnf" line,
// numbers, each clause ended by 0.
func dimacs(t *testing.T, text string) formula {
	t.Helper()
	var f formula
	var c []Lit
	for line := range strings.Lines(text) {
		fields := strings.Fields(line)
		switch {
		case len(fields) == 0 || fields[0] == "c":
		case fields[0] == "p":
			n, err := strconv.Atoi(fields[2])
			if err != nil || fields[1] != "cnf" {
				t.Fatalf("%q: %v", line, err)
			}
			f.n = n
		default:
			for _, field := range fields {
				v, err := strconv.Atoi(field)
				if err != nil {
					t.Fatal(err)
				}
				if v == 0 {
					f.clauses, c = append(f.clauses, c), nil
				} else {
					c = append(c, Lit(v))
				}
			}
		}
	}
	return f
}

// The first text is the example of the format's own description
// ("Satisfiability: Suggested Format", DIMACS 1993; from memory, to be
// confirmed). The others colour 1 … n with two colours so that no three numbers
// evenly spaced have the same: possible up to 8, not for 9 (van der Waerden's
// number W(2, 3) = 9: V. Chvátal, in Combinatorial Structures and Their
// Applications (1970) 31; from memory, to be confirmed).
func TestTextForm(t *testing.T) {
	f := dimacs(t, "c Example\np cnf 4 3\n1 3 -4 0\n4 0 2\n-3 0\n")
	if len(f.clauses) != 3 || f.solver().Solve() != Sat {
		t.Errorf("%v", f)
	}
	for n, want := range map[int]Status{8: Sat, 9: Unsat} {
		text := "p cnf " + strconv.Itoa(n) + " 0\n"
		for a := 1; a <= n; a++ {
			for d := 1; a+2*d <= n; d++ {
				for _, sign := range []int{1, -1} {
					for k := range 3 {
						text += strconv.Itoa(sign*(a+k*d)) + " "
					}
					text += "0\n"
				}
			}
		}
		if got := dimacs(t, text).solver().Solve(); got != want {
			t.Errorf("colouring of 1 … %d: %v, want %v", n, got, want)
		}
	}
}
