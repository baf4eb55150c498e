package cost

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"strapper/unit"
	"strapper/wiring"
)

func read(t *testing.T, text string) (*Prices, error) {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return ReadPrices(rows)
}

const head = "item,price,description,unit,pack,tax\ncurrency,GBP\nlabour,46.00\ntax,20,VAT\n"

func demo(t *testing.T) *Prices {
	t.Helper()
	text, err := os.ReadFile("../examples/prices.csv")
	if err != nil {
		t.Fatal(err)
	}
	p, err := read(t, string(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPriceListOfTheExamples(t *testing.T) {
	p := demo(t)
	if p.Currency.Code != "GBP" || p.Labour != 4600 || p.Travel != 1500 || p.Markup != 1500 || p.Tax != 2000 || p.Valid != 30 || len(p.Seller) != 2 || len(p.Offers) < 60 {
		t.Errorf("%+v", p.Terms)
	}
	if !strings.Contains(p.Note, "Invented") {
		t.Error("the list does not say that it is invented")
	}
}

func TestPriceListSaysWhatIsWrong(t *testing.T) {
	for text, want := range map[string]string{
		"":                         "empty",
		"article,price\n":          "no column called item",
		"item,item,price\n":        "two columns called item",
		"item,price\nlabour,3\n":   "before the currency",
		"item,price\n":             "no row for currency",
		head + "currency,EUR\n":    "currency a second time",
		head + "clip,1.999\n":      "row 5 (clip): \"1.999\" has more than 2 digits",
		head + "clip,\n":           "row 5 (clip): \"\" is not an amount",
		head + "clip,1,,kg\n":      "the unit is \"kg\"",
		head + "clip,1,,off,0\n":   "the pack is \"0\"",
		head + "clip,1,,off,1.5\n": "the pack is \"1.5\"",
		head + "clip,1,,,,x\n":     "is not a rate",
		head + "tax-rounding,up\n": "write line or sum",
		head + "valid-days,0\n":    "number of days",
		head + ",1\n":              "row 5 has no item",
	} {
		if _, err := read(t, text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if _, err := read(t, head+strings.Repeat("clip,x\n", 500)); err == nil || strings.Count(err.Error(), "\n") > 20 {
		t.Errorf("%v", err)
	}
}

// Worked by hand in docs/checks/09-price.md.
func TestBuy(t *testing.T) {
	drums := []Offer{{Unit: "m", Pack: 1, Price: 92}, {Unit: "m", Pack: 50, Price: 3150}, {Unit: "m", Pack: 100, Price: 5800}}
	for _, c := range []struct {
		units int
		want  string
		pays  Money
		over  int
	}{
		{1, "1 m", 92, 0},
		{34, "34 m", 3128, 0},
		{35, "1 × 50 m", 3150, 15},
		{50, "1 × 50 m", 3150, 0},
		{53, "1 × 50 m + 3 m", 3426, 0},
		{90, "1 × 100 m", 5800, 10},
		{150, "1 × 100 m + 1 × 50 m", 8950, 0},
		{200, "2 × 100 m", 11600, 0},
	} {
		list, over, ok := Buy(drums, "m", c.units)
		text, pays := []string{}, Money(0)
		for _, b := range list {
			text, pays = append(text, b.String()), pays+Money(b.Packs)*b.Each
		}
		if got := strings.Join(text, " + "); !ok || got != c.want || pays != c.pays || over != c.over {
			t.Errorf("%d m: %s for %d with %d over, want %s for %d with %d", c.units, got, pays, over, c.want, c.pays, c.over)
		}
	}
	for _, c := range []struct {
		unit  string
		units int
	}{{"m", 0}, {"m", -1}, {"off", 3}, {"m", mostUnits + 1}} {
		if _, _, ok := Buy(drums, c.unit, c.units); ok {
			t.Errorf("%d %s were bought", c.units, c.unit)
		}
	}
}

// Against every choice of packs, tried one by one.
func TestBuyIsCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var offers []Offer
		for range rapid.IntRange(1, 3).Draw(t, "offers") {
			offers = append(offers, Offer{Unit: "off", Pack: rapid.IntRange(1, 12).Draw(t, "pack"), Price: Money(rapid.IntRange(0, 50).Draw(t, "price"))})
		}
		units := rapid.IntRange(1, 30).Draw(t, "units")
		best, least := Money(1<<40), 0
		var try func(i, got int, pays Money)
		try = func(i, got int, pays Money) {
			if got >= units {
				if pays < best || pays == best && got-units < least {
					best, least = pays, got-units
				}
				return
			}
			if i < len(offers) {
				try(i, got+offers[i].Pack, pays+offers[i].Price)
				try(i+1, got, pays)
			}
		}
		try(0, 0, 0)
		list, over, ok := Buy(offers, "off", units)
		pays, got := Money(0), 0
		for _, b := range list {
			pays, got = pays+Money(b.Packs)*b.Each, got+b.Packs*b.Pack
		}
		if !ok || pays != best || over != least || got != units+over {
			t.Fatalf("%v for %d units: %v, pays %d with %d over; the best is %d with %d", offers, units, list, pays, over, best, least)
		}
	})
}

// change is the second stair switch of docs/checks/03-take-off.md, its wiring
// moved by hand in docs/checks/09-price.md.
func change() Change {
	left := stairsLeft()
	move := func(k wiring.MoveKind, ends int) wiring.Move {
		return wiring.Move{Kind: k, Ends: make([]wiring.End, ends)}
	}
	return Change{Found: stairs(), Left: left, Stated: map[string]float64{"feed2": 40}, Moves: []wiring.BoxMoves{
		{Moves: []wiring.Move{move(wiring.TakeOff, 2), move(wiring.Fit, 0), move(wiring.Sleeve, 1), move(wiring.Land, 3), move(wiring.Join, 2)}},
		{Moves: []wiring.Move{move(wiring.FitBox, 0), move(wiring.Fit, 0), move(wiring.Sleeve, 2), move(wiring.Land, 3), move(wiring.Park, 1), move(wiring.Link, 0)}},
	}}
}

func TestTimesByHand(t *testing.T) {
	n, err := Customary()
	if err != nil {
		t.Fatal(err)
	}
	want := map[Job]Span{
		Arrive: {15, 20, 30}, FitBox: {12, 18, 30}, Fitting: {12, 20, 30}, CoreEnd: {12, 18, 30}, Mark: {2, 2, 3},
		TestWork: {30, 45, 60}, ClearUp: {15, 20, 30},
	}
	runs := Span{}
	for _, task := range n.Reckon(change()).Tasks {
		if task.Job == RunCable {
			runs = runs.plus(task.Minutes)
		} else if task.Minutes != want[task.Job] {
			t.Errorf("%s: %v, want %v", task.Job, task.Minutes, want[task.Job])
		}
		delete(want, task.Job)
	}
	if len(want) > 0 || runs != (Span{24 + 40, 48 + 40, 120 + 40}) {
		t.Errorf("missing %v; runs %v", want, runs)
	}
}

func TestNothingChangedNeedsNothing(t *testing.T) {
	n, _ := Customary()
	c := change()
	c.Moves = nil
	if got := n.Reckon(c); len(got.Lines)+len(got.Tasks) > 0 {
		t.Errorf("%+v", got)
	}
}

// The lines add up to the sums in each case, low is at most likely and that at
// most high, and a dearer part never makes the offer cheaper.
func TestOfferAddsUp(t *testing.T) {
	n, err := Customary()
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		p := &Prices{Terms: Terms{
			Currency: currencies[0], Labour: Money(rapid.IntRange(0, 20000).Draw(t, "labour")), Travel: Money(rapid.IntRange(0, 9999).Draw(t, "travel")),
			Markup: Rate(rapid.IntRange(0, 10000).Draw(t, "markup")), Tax: Rate(rapid.IntRange(0, 3000).Draw(t, "tax")), PerLine: rapid.Bool().Draw(t, "per line"),
		}}
		c := change()
		c.Left.Cables[len(c.Left.Cables)-1].Length = unit.Millimetre(rapid.Int64Range(1, 1e6).Draw(t, "length"))
		needs := n.Reckon(c)
		for _, l := range needs.Lines {
			if rapid.IntRange(0, 5).Draw(t, "listed") > 0 {
				_, of := l.units()
				p.Offers = append(p.Offers, Offer{Item: l.Items()[0], Unit: of, Pack: rapid.IntRange(1, 100).Draw(t, "pack"), Price: Money(rapid.IntRange(0, 100000).Draw(t, "price")), Tax: Rate(rapid.SampledFrom([]int{0, 500, 2000}).Draw(t, "rate"))})
			}
		}
		q := p.Offer("w", nil, needs)
		check(t, p, q)
		if len(q.Parts)+len(q.Missing) != len(needs.Lines) {
			t.Fatalf("%d lines are needed, %d priced, %d missing", len(needs.Lines), len(q.Parts), len(q.Missing))
		}
		for i := range p.Offers {
			p.Offers[i].Price++
			if dearer := p.Offer("w", nil, needs); dearer.Likely.Net < q.Likely.Net {
				t.Fatalf("a dearer %s makes %d of %d", p.Offers[i].Item, dearer.Likely.Net, q.Likely.Net)
			}
		}
	})
}

func check(t *rapid.T, p *Prices, q *Quote) {
	var low, likely, high, perLine Money
	for _, list := range [][]Priced{q.Parts, q.Work} {
		for _, l := range list {
			if l.Low > l.Likely || l.Likely > l.High {
				t.Fatalf("%+v is out of order", l)
			}
			low, likely, high = low+l.Low, likely+l.Likely, high+l.High
			perLine += l.Tax.Of(l.Likely)
		}
	}
	if low != q.Low.Net || likely != q.Likely.Net || high != q.High.Net {
		t.Fatalf("the lines come to %d, %d, %d; the sums are %d, %d, %d", low, likely, high, q.Low.Net, q.Likely.Net, q.High.Net)
	}
	if p.PerLine && perLine != q.Likely.Tax {
		t.Fatalf("tax by line %d, in the sum %d", perLine, q.Likely.Tax)
	}
	if d := perLine - q.Likely.Tax; d > Money(len(q.Parts)+len(q.Work)) || -d > Money(len(q.Parts)+len(q.Work)) {
		t.Fatalf("tax on the sum %d is further from that by line %d than rounding can take it", q.Likely.Tax, perLine)
	}
	for _, s := range []Sums{q.Low, q.Likely, q.High} {
		if s.Gross != s.Net+s.Tax {
			t.Fatalf("%+v", s)
		}
	}
}

func TestItems(t *testing.T) {
	for _, c := range []struct {
		l    Line
		want string
	}{
		{Line{Part: Cable, Kind: "te-1.0"}, "te-1.0"},
		{Line{Part: Clip, Kind: "te-1.0"}, "clip-te-1.0 clip"},
		{Line{Part: Plate, Description: "Blank plate, 1 gang"}, "blank-plate-1-gang plate"},
		{Line{Part: Plate, Description: "2-gang plate"}, "2-gang-plate plate"},
		{Line{Part: Connector, Description: "Connector for 6 or more"}, "connector-6 connector-7 connector-8"},
		{Line{Part: Lamp, Kind: "led"}, "lamp-led"},
		{Line{Part: Sleeving}, "sleeve"},
		{Line{Part: Good, Kind: "filler"}, "filler"},
	} {
		if got := strings.Join(c.l.Items(), " "); got != c.want {
			t.Errorf("%+v: %s, want %s", c.l, got, c.want)
		}
	}
}

func TestBillIsTheOffer(t *testing.T) {
	p := demo(t)
	n, _ := Customary()
	q := p.Offer("w", nil, n.Reckon(change()))
	rows := p.Bill(q)
	var sum Money
	for _, row := range rows[1:] {
		if len(row) != len(rows[0]) {
			t.Errorf("a row of %d cells: %v", len(row), row)
		}
		if row[0] == "part" || row[0] == "work" {
			m, err := p.Currency.Parse(row[7])
			if err != nil {
				t.Error(err)
			}
			sum += m
		}
	}
	last := rows[len(rows)-1]
	if sum != q.Likely.Net || last[1] != "to pay" || last[7] != p.Currency.Plain(q.Likely.Gross) {
		t.Errorf("the bill comes to %d, the offer to %d; its last row is %v", sum, q.Likely.Net, last)
	}
	if harmless("=1+1") != "'=1+1" || harmless("@x")[0] != '\'' || harmless("Clip") != "Clip" {
		t.Error("a cell may be read as a formula")
	}
}

// Whatever stands in the cells, there is a list or an error, and a list that was
// taken for good can price the dearest job without running over.
func TestAnyTableIsReadOrRefused(t *testing.T) {
	n, err := Customary()
	if err != nil {
		t.Fatal(err)
	}
	needs := n.Reckon(change())
	cells := []string{"", "item", "price", "unit", "pack", "tax", "currency", "GBP", "labour", "1000000", "100", "te-1.0", "3ce-1.0", "clip", "m", "off", "10000", "markup", "travel", "-1", "x", "\xff", "tax-rounding", "line"}
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.SampledFrom(cells)
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, 0, 6), 0, 8).Draw(t, "rows")
		if rapid.Bool().Draw(t, "headed") {
			rows = append([][]string{{"item", "price", "unit", "pack", "tax"}, {"currency", "GBP"}, {"labour", "1000000"}, {"tax", "100"}, {"markup", "100"}}, rows...)
		}
		p, err := ReadPrices(rows)
		if err != nil {
			return
		}
		if q := p.Offer("w", nil, needs); q.Low.Net < 0 || q.High.Gross < q.High.Net || q.High.Net < q.Low.Net {
			t.Fatalf("%+v", q)
		}
	})
}

// Cables run together save once, off the longest run, and never below nought.
func TestSaving(t *testing.T) {
	for _, c := range []struct{ saves, a, b int }{{10, 30, 50}, {70, 30, 0}} {
		list := saved([]Task{{Minutes: Span{30, 40, 50}}, {Minutes: Span{60, 70, 90}}}, c.saves)
		if list[0].Minutes.Low != c.a || list[1].Minutes.Low != c.b {
			t.Errorf("%d min saved: %v", c.saves, list)
		}
	}
	if list := saved(nil, 5); list != nil {
		t.Error(list)
	}
}

func BenchmarkOffer(b *testing.B) {
	n, err := Customary()
	if err != nil {
		b.Fatal(err)
	}
	p := &Prices{Terms: Terms{Currency: currencies[0], Labour: 4600}, Offers: []Offer{{Item: "te-1.0", Unit: "m", Pack: 1, Price: 92}, {Item: "te-1.0", Unit: "m", Pack: 50, Price: 3150}}}
	for b.Loop() {
		p.Offer("w", nil, n.Reckon(change()))
	}
}
