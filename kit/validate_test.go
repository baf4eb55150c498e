package kit

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"strapper/source"
)

// One broken file for every rule. Each case changes one sound file of the
// catalogue by replacing a text, and names what must be said of it.
var broken = []struct {
	file, old, new, want string
}{
	{"accessories/two-way", `"Two-way switch"`, `""`, `id and title are needed`},
	{"accessories/two-way", `"switch-two-way"`, `""`, `symbol is needed`},
	{"accessories/two-way", `"practice"`, `"hearsay"`, `source: authority "hearsay"`},
	{"accessories/two-way", `"memory"`, `""`, `rating_source: authority ""`},
	{"accessories/luminaire", `"practice"`, `""`, `load_source: authority ""`},
	{"accessories/dimmer", `"load_source"`, `"rating_source"`, `load_source: authority ""`},
	{"accessories/two-way", `"class": "switch"`, `"class": "gadget"`, `class gadget is not one of`},
	{"accessories/two-way", `"hand"`, `"magic"`, `actuator magic is not one of`},
	{"accessories/two-way", `"role": "common"`, `"role": "odd"`, `role odd is not one of`},
	{"accessories/two-way", `"name": "L1"`, `"name": "L2"`, `terminal "L2" is named twice or not at all`},
	{"accessories/two-way", `"name": "L1"`, `"name": ""`, `terminal "" is named twice or not at all`},
	{"accessories/connector-3", `{"name": "1"}, {"name": "2"}, {"name": "3"}`, ``, `terminals are needed`},
	{"accessories/luminaire", `"role": "earth"`, `"role": ""`, `exposed metal needs an earth terminal`},
	{"accessories/two-way", `"join": ["COM", "L1"]`, `"join": ["COM", "L9"]`, `terminal "L9" does not exist`},
	{"accessories/luminaire", `"between": ["L", "N"]`, `"between": ["L", "L"]`, `terminal "L" is joined to itself`},
	{"accessories/latching-relay", `["A1", "A2"]`, `["A1", "A9"]`, `terminal "A9" does not exist`},
	{"accessories/two-way", `["up", "down"]`, `["up"]`, `an accessory with an actuator needs two positions or more`},
	{"accessories/two-way", `"actuator": "hand",`, ``, `positions ["up" "down"] need an actuator`},
	{"accessories/latching-relay", `"actuator": "coil"`, `"actuator": "hand"`, `actuator coil and field coil go together`},
	{"accessories/two-way", `"actuator": "hand"`, `"actuator": "coil"`, `actuator coil and field coil go together`},
	{"accessories/one-way", `"contacts": [`, `"contacts": [], "loads": [`, `unknown field "join"`},
	{"accessories/one-way", `{"join": ["COM", "L1"], "in": ["on"]}`, ``, `an actuator needs contacts to move`},
	{"accessories/two-way", `["up", "down"]`, `["up", "up", "down"]`, `position "up" is named twice or not at all`},
	{"accessories/dimmer", `"electronic"`, `"ether"`, `contact COM-L1: via "ether" is not "electronic"`},
	{"accessories/one-way", `"in": ["on"]`, `"in": []`, `contact COM-L1 is closed in no position`},
	{"accessories/one-way", `"in": ["on"]`, `"in": ["half"]`, `contact COM-L1: position "half" is not among ["off" "on"]`},
	{"accessories/dimmer", `"max_load_w": 150`, `"max_load_w": 5`, `nor the maximum load under the minimum`},
	{"accessories/two-way", `"rating_a": 10`, `"rating_a": -10`, `load limits may not be negative`},
	{"accessories/luminaire", `"power_w": 18`, `"power_w": 0`, `load L-N: power must be positive`},
	{"accessories/latching-relay", `"power_w": 4`, `"power_w": -4`, `coil: power must be positive`},
	{"accessories/luminaire", `"led-driver"`, `"candle"`, `accessory luminaire: lamp kind "candle" is not in data/lamps`},

	{"cables/te-1.5", `"id": "te-1.5"`, `"id": ""`, `id and title are needed`},
	{"cables/te-1.5", `"published"`, `"rumour"`, `rating_source: authority "rumour"`},
	{"cables/te-1.5", `"derived"`, `""`, `coupling_source: authority ""`},
	{"cables/te-1.5", `"harmonised"`, `"pastel"`, `palette pastel is not one of`},
	{"cables/te-1.5", `"colour": "blue"`, `"colour": "pink"`, `colour pink is not one of`},
	{"cables/te-1.5", `"colour": "blue", "area_mm2": 1.5`, `"colour": "blue", "area_mm2": 0`, `core "blue" has no area`},
	{"cables/te-1.5", `"colour": "blue", "area_mm2": 1.5`, `"colour": "blue", "area_mm2": 1.4`, `no resistance is tabulated for 1.4 mm²`},
	{"cables/single-red-1.5", `{"name": "red", "colour": "red", "area_mm2": 1.5}`, ``, `cores are needed`},
	{"cables/te-1.5", `"name": "blue"`, `"name": "brown"`, `core "brown" is named twice or not at all`},
	{"cables/te-1.5", `"rating_a": 10`, `"rating_a": 0`, `rating must be positive`},
	{"cables/te-1.5", `"width_mm": 10`, `"width_mm": 1`, `nor thickness over width`},
	{"cables/te-1.5", `["brown", "cpc"]`, `["brown", "green"]`, `coupling [brown green] names a core that does not exist`},
	{"cables/te-1.5", `["brown", "cpc"]`, `["cpc", "blue"]`, `coupling "blue-cpc" is named twice`},
	{"cables/te-1.5", `["brown", "cpc"]`, `["cpc", "cpc"]`, `core "cpc" is coupled to itself`},

	{"boxes/plaster-1g-35", `"plaster"`, `"wallpaper"`, `mount wallpaper is not one of`},
	{"boxes/plaster-1g-35", `"depth_mm": 35`, `"depth_mm": -35`, `gangs and sizes may not be negative`},
	{"boxes/plaster-1g-35", `"id": "plaster-1g-35"`, `"id": "other"`, `id "other" does not match the file's name`},

	{"devices/mcb-b6", `"mcb"`, `"wire"`, `type wire is not one of`},
	{"devices/mcb-b6", `"rating_a": 6`, `"rating_a": 0`, `rating must be positive`},
	{"devices/rcd-30", `"residual_a": 0.03`, `"residual_a": -0.03`, `the residual current may not be negative`},
	{"devices/mcb-b6", `"curve": "B",`, ``, `a circuit-breaker or RCBO has a curve`},
	{"devices/rcd-30", `"residual_a": 0.03,`, ``, `an RCD or RCBO has a residual current`},
	{"devices/mcb-b6", `"rating_a": 6`, `"rating_a": 6, "residual_a": 0.03`, `an RCD or RCBO has a residual current, and nothing else`},

	{"lamps/led", `"power_factor": 0.5`, `"power_factor": 1.2`, `power factor must be over 0 and up to 1`},
	{"lamps/led", `"glow_a": 1e-05`, `"glow_a": -1`, `glow current may not be negative`},

	{"physics", `"contact_source"`, `"electronic_source"`, `contact_source: authority ""`},
	{"physics", `"conductor_source": {`, `"conductor_source": {}, "below_maximum_source": {`, `conductor_source: authority ""`},
	{"physics", `"temperature_coefficient_source"`, `"contact_source"`, `temperature_coefficient_source: authority ""`},
	{"physics", `"electronic_source"`, `"contact_source"`, `electronic_source: authority ""`},
	{"physics", `"below_maximum_source"`, `"contact_source"`, `below_maximum_source: authority ""`},
	{"physics", `"conductors": [`, `"conductors": [], "contact_ohm": [`, `cannot unmarshal array`},
	{"physics", `"ohm_per_m": 0.0121`, `"ohm_per_m": 0`, `area and resistance must be positive`},
	{"physics", `"ohm_per_m": 0.0121`, `"ohm_per_m": 0.0221`, `areas must rise and resistances fall down the table`},
	{"physics", `"contact_ohm": 0.01`, `"contact_ohm": 0`, `coefficient, contact and electronic must be positive`},
	{"physics", `"below_maximum_percent": 5`, `"below_maximum_percent": 100`, `below_maximum_percent must be from 0 to under 100`},

	{"lamps/led", `"title"`, `"name"`, `unknown field "name"`},
	{"lamps/led", `{`, `[`, `lamps/led.json: `},
	{"lamps/led", "\n}\n", "\n} {}\n", `more text follows the object`},
}

// files is the embedded catalogue as files that can be changed.
func files(t *testing.T) fstest.MapFS {
	t.Helper()
	m := fstest.MapFS{}
	err := fs.WalkDir(data, "data", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := data.ReadFile(name)
		m[name] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestBrokenFiles(t *testing.T) {
	for _, tc := range broken {
		m := files(t)
		name := "data/" + tc.file + ".json"
		text := string(m[name].Data)
		if !strings.Contains(text, tc.old) {
			t.Errorf("%s does not contain %s", name, tc.old)
			continue
		}
		m[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, tc.old, tc.new, 1))}
		_, err := read(m)
		switch {
		case err == nil:
			t.Errorf("%s with %s for %s was accepted", name, tc.new, tc.old)
		case !strings.Contains(err.Error(), tc.want):
			t.Errorf("%s with %s for %s: want %q in\n%v", name, tc.new, tc.old, tc.want, err)
		}
	}
}

func TestMissingFiles(t *testing.T) {
	m := files(t)
	delete(m, "data/physics.json")
	if _, err := read(m); err == nil || !strings.Contains(err.Error(), "data/physics.json") {
		t.Errorf("no physics.json: %v", err)
	}
	_, err := read(fstest.MapFS{})
	for _, dir := range []string{"accessories", "boxes", "cables", "devices", "lamps"} {
		if err == nil || !strings.Contains(err.Error(), "data/"+dir+" holds nothing") {
			t.Errorf("an empty catalogue does not mention %s: %v", dir, err)
		}
	}
}

func TestSoundFilesAreAccepted(t *testing.T) {
	if _, err := read(files(t)); err != nil {
		t.Error(err)
	}
}

// Every rule in validate.go has a case above: each text it can print was
// printed by one of them, or by the empty kinds here.
func TestEveryRuleIsTested(t *testing.T) {
	var said strings.Builder
	for _, tc := range broken {
		m := files(t)
		name := "data/" + tc.file + ".json"
		m[name] = &fstest.MapFile{Data: []byte(strings.Replace(string(m[name].Data), tc.old, tc.new, 1))}
		if _, err := read(m); err != nil {
			said.WriteString(err.Error() + "\n")
		}
	}
	if err := (&Physics{ConductorSource: source.Source{}}).validate(); err != nil {
		said.WriteString(err.Error())
	}
	rules := ruleTexts(t)
	if len(rules) < 35 {
		t.Errorf("only %d rules were found in validate.go", len(rules))
	}
	for _, rule := range rules {
		if !rule.MatchString(said.String()) {
			t.Errorf("no broken file brings out %s", rule)
		}
	}
}

var verb = regexp.MustCompile(`%[a-z]`)

// ruleTexts finds the format of every call of troubles.add.
func ruleTexts(t *testing.T) (rules []*regexp.Regexp) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "validate.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) < 2 {
			return true
		}
		format, isText := call.Args[1].(*ast.BasicLit)
		if sel, ok := call.Fun.(*ast.SelectorExpr); ok && isText && sel.Sel.Name == "add" {
			text, err := strconv.Unquote(format.Value)
			if err != nil {
				t.Fatal(err)
			}
			parts := verb.Split(text, -1)
			for i := range parts {
				parts[i] = regexp.QuoteMeta(parts[i])
			}
			rules = append(rules, regexp.MustCompile(strings.Join(parts, `.*`)))
		}
		return true
	})
	return rules
}

// FuzzRead gives the decoder any text for one file: it may refuse it, but not
// panic.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"accessories/two-way", "cables/te-1.5", "physics"} {
		text, err := data.ReadFile("data/" + name + ".json")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		m := fstest.MapFS{}
		for _, name := range []string{"accessories/two-way", "cables/te-1.5", "boxes/a", "devices/a", "lamps/a", "physics"} {
			m["data/"+name+".json"] = &fstest.MapFile{Data: []byte(text)}
		}
		if c, _ := read(m); c == nil {
			t.Error("no catalogue, not even an empty one")
		} else {
			c.Figures()
		}
	})
}
