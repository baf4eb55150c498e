package kit

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"sync"

	"strapper/source"
	"strapper/unit"
)

//go:embed data
var data embed.FS

// Catalogue is everything in data/, by id. It is read-only once loaded.
type Catalogue struct {
	Accessories map[string]*Accessory
	Boxes       map[string]*Box
	Cables      map[string]*Cable
	Devices     map[string]*Device
	Lamps       map[string]*LampKind
	Physics     *Physics
}

// Physics holds the figures that belong to no single kind.
type Physics struct {
	Conductors       []Conductor   `json:"conductors"`
	ConductorSource  source.Source `json:"conductor_source"`
	Coefficient      float64       `json:"temperature_coefficient_per_c"` // referred to 20 °C
	CoeffSource      source.Source `json:"temperature_coefficient_source"`
	Contact          unit.Ohm      `json:"contact_ohm"` // one closed switch contact or clamped joint
	ContactSource    source.Source `json:"contact_source"`
	Electronic       unit.Ohm      `json:"electronic_ohm"` // equivalent of a conducting semiconductor switch
	ElectronicSource source.Source `json:"electronic_source"`
	BelowMax         unit.Percent  `json:"below_maximum_percent"` // real cable lies up to this far below the tabulated maximum
	BelowMaxSource   source.Source `json:"below_maximum_source"`
}

// Open reads and checks the embedded catalogue, once: every call returns the
// same one. An error here is a fault of the program's own data and names the
// file.
func Open() (*Catalogue, error) { return open() }

var open = sync.OnceValues(func() (*Catalogue, error) { return read(data) })

func read(files fs.FS) (*Catalogue, error) {
	c := &Catalogue{Physics: &Physics{}}
	var errs []error
	c.Accessories, errs = readDir(files, "data/accessories", errs, func(a *Accessory) (string, error) { return a.ID, a.validate() })
	c.Boxes, errs = readDir(files, "data/boxes", errs, func(b *Box) (string, error) { return b.ID, b.validate() })
	c.Cables, errs = readDir(files, "data/cables", errs, func(k *Cable) (string, error) { return k.ID, k.validate() })
	c.Devices, errs = readDir(files, "data/devices", errs, func(d *Device) (string, error) { return d.ID, d.validate() })
	c.Lamps, errs = readDir(files, "data/lamps", errs, func(l *LampKind) (string, error) { return l.ID, l.validate() })
	if err := readFile(files, "data/physics.json", c.Physics); err != nil {
		errs = append(errs, err)
	} else if err := c.Physics.validate(); err != nil {
		errs = append(errs, fmt.Errorf("kit: data/physics.json: %w", err))
	}
	errs = append(errs, c.crossCheck()...)
	return c, errors.Join(errs...)
}

func readDir[T any](files fs.FS, dir string, errs []error, check func(*T) (string, error)) (map[string]*T, []error) {
	kinds := map[string]*T{}
	names, err := fs.Glob(files, dir+"/*.json")
	if err != nil {
		return kinds, append(errs, err)
	}
	for _, name := range names {
		kind := new(T)
		if err := readFile(files, name, kind); err != nil {
			errs = append(errs, err)
			continue
		}
		id, err := check(kind)
		if err == nil && name != dir+"/"+id+".json" {
			err = fmt.Errorf("id %q does not match the file's name", id)
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("kit: %s: %w", name, err))
		}
		kinds[id] = kind
	}
	if len(kinds) == 0 {
		errs = append(errs, fmt.Errorf("kit: %s holds nothing that can be read", dir))
	}
	return kinds, errs
}

func readFile(files fs.FS, name string, into any) error {
	text, err := fs.ReadFile(files, name)
	if err != nil {
		return fmt.Errorf("kit: %w", err)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("kit: %s: %w", name, err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return fmt.Errorf("kit: %s: more text follows the object", name)
	}
	return nil
}

// crossCheck links the files to each other and finds names that lead nowhere.
func (c *Catalogue) crossCheck() []error {
	var errs []error
	for _, id := range Names(c.Accessories) {
		a := c.Accessories[id]
		for i := range a.Loads {
			l := &a.Loads[i]
			if l.Kind = c.Lamps[l.Lamp]; l.Kind == nil {
				errs = append(errs, fmt.Errorf("kit: accessory %s: lamp kind %q is not in data/lamps", a.ID, l.Lamp))
			}
		}
	}
	for _, id := range Names(c.Cables) {
		k := c.Cables[id]
		for _, core := range k.Cores {
			if _, ok := c.Physics.PerMetre(&core); !ok {
				errs = append(errs, fmt.Errorf("kit: cable %s: core %s: no resistance is tabulated for %v", k.ID, core.Name, core.Area))
			}
		}
	}
	return errs
}

// Names lists the keys of one of the catalogue's maps in order.
func Names[T any](kinds map[string]*T) []string {
	names := make([]string, 0, len(kinds))
	for name := range kinds {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Terminal finds a terminal by name; nil if there is none.
func (a *Accessory) Terminal(name string) *Terminal {
	for i := range a.Terminals {
		if a.Terminals[i].Name == name {
			return &a.Terminals[i]
		}
	}
	return nil
}

// Core finds a core by name; nil if there is none.
func (k *Cable) Core(name string) *Core {
	for i := range k.Cores {
		if k.Cores[i].Name == name {
			return &k.Cores[i]
		}
	}
	return nil
}
