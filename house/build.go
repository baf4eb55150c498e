package house

import (
	"bytes"
	_ "embed" // the builds
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"sync"

	"strapper/source"
	"strapper/unit"
)

//go:embed data/builds.json
var buildData []byte

// buildFile is one entry of data/builds.json.
type buildFile struct {
	ID      string        `json:"id"`
	Title   string        `json:"title"`
	Fabric  Fabric        `json:"fabric"`
	Face    [2]MM         `json:"face_mm"`
	Line    [2]Lining     `json:"line"`
	Gap     [2]MM         `json:"gap_mm"`
	Core    MM            `json:"core_mm"`
	Leaf    [2]MM         `json:"leaf_mm"`
	Stud    MM            `json:"stud_mm"`
	Centres MM            `json:"centres_mm"`
	Plate   MM            `json:"plate_mm"`
	Rows    []MM          `json:"rows_mm"`
	Nogging MM            `json:"nogging_mm"`
	Likely  unit.Percent  `json:"likely_percent"`
	Filled  bool          `json:"filled"`
	Source  source.Source `json:"source"`
}

// Builds are the usual build-ups of walls, by id in the order of the data file.
// Every call gives fresh copies. An error is a fault of the program's own data.
func Builds() ([]*Build, error) {
	files, err := usualBuilds()
	list := make([]*Build, len(files))
	for i, f := range files {
		list[i] = &Build{
			ID: f.ID, Title: f.Title, Fabric: f.Fabric, Face: f.Face, Line: f.Line, Gap: f.Gap, Core: f.Core,
			Leaf: f.Leaf, Stud: f.Stud, Centres: f.Centres, Plate: f.Plate, Rows: slices.Clone(f.Rows),
			Nogging: f.Nogging, Likely: f.Likely, Filled: f.Filled, Source: f.Source,
		}
	}
	return list, err
}

var usualBuilds = sync.OnceValues(func() ([]buildFile, error) {
	var files []buildFile
	d := json.NewDecoder(bytes.NewReader(buildData))
	d.DisallowUnknownFields()
	if err := d.Decode(&files); err != nil {
		return nil, fmt.Errorf("house: data/builds.json: %w", err)
	}
	return files, nil
})

// figures lists a build's numbers.
func (b *Build) figures() []source.Figure {
	list := []source.Figure{{Name: "wall " + b.ID + ": thickness", Value: mm(b.Thickness()), Source: b.Source}}
	add := func(v MM, what string) {
		if v > 0 {
			list = append(list, source.Figure{Name: "wall " + b.ID + ": " + what, Value: mm(v), Source: b.Source})
		}
	}
	for i, side := range []string{"one face", "the other face"} {
		add(b.Face[i], "lining of "+side)
		add(b.Gap[i], "void behind the lining of "+side)
	}
	add(b.Core, "studs or masonry")
	add(b.Stud, "breadth of a stud")
	add(b.Centres, "studs, centre to centre")
	add(b.Plate, "height of sole and head plate")
	for _, r := range b.Rows {
		add(r, "height of a row of noggings that may be there")
	}
	if b.Likely > 0 {
		list = append(list, source.Figure{Name: "wall " + b.ID + ": how likely a row of noggings is", Value: b.Likely.String(), Source: b.Source})
	}
	return list
}

func mm(v MM) string { return strconv.FormatInt(int64(v), 10) + " mm" }
