package job

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"testing"

	"github.com/invopop/jsonschema"
)

var update = flag.Bool("update", false, "rewrite schema.json and the golden messages")

// The schema that is embedded is the one that the structs give.
func TestSchemaIsCurrent(t *testing.T) {
	want := generateSchema(t)
	if *update {
		if err := os.WriteFile("schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, Schema()) {
		t.Error("schema.json is not what the structs of file.go give; run go test ./job -run Schema -update")
	}
}

func generateSchema(t *testing.T) []byte {
	t.Helper()
	r := &jsonschema.Reflector{Anonymous: true, ExpandedStruct: true, Mapper: shortForms}
	s := r.Reflect(&fileJob{})
	s.Title, s.Description = "Job", "One piece of work on the lighting of a house: the wiring as found, as left, and the control wanted."
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(text, &tree); err != nil {
		t.Fatal(err)
	}
	constrainNames(tree)
	sections := tree.(map[string]any)["properties"].(map[string]any)
	for _, name := range []string{"circuits", "boxes"} {
		sections[name].(map[string]any)["minProperties"] = 1
	}
	text, err = json.MarshalIndent(tree, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(text, '\n')
}

// shortForms lets an item be written as its kind, a place as its title, and an
// item of a box as null where it is taken out.
func shortForms(t reflect.Type) *jsonschema.Schema {
	plain := &jsonschema.Reflector{Anonymous: true, DoNotReference: true, ExpandedStruct: true}
	switch t {
	case reflect.TypeFor[fileItem]():
		type long fileItem
		return either("the kind alone, by its id in the catalogue", plain.Reflect(&long{}))
	case reflect.TypeFor[filePlace]():
		type long filePlace
		return either("the title alone", plain.Reflect(&long{}))
	case reflect.TypeFor[fileAt]():
		type long fileAt
		return either("the box alone, or box.item", plain.Reflect(&long{}))
	case reflect.TypeFor[map[string]*fileItem](): // named in file.go
		return nil
	}
	return nil
}

func either(short string, long *jsonschema.Schema) *jsonschema.Schema {
	long.Version = ""
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "string", Description: short, MinLength: new(uint64(1))}, long}}
}

// constrainNames gives every map by id the form of an id, and lets an item of
// a box as left be null.
func constrainNames(node any) {
	switch n := node.(type) {
	case map[string]any:
		if values, ok := n["additionalProperties"].(map[string]any); ok && len(values) > 0 {
			n["propertyNames"] = map[string]any{"pattern": "^[A-Za-z0-9][A-Za-z0-9_-]*$"}
			if values["type"] == "string" { // by box.item
				n["propertyNames"] = map[string]any{"pattern": `^[A-Za-z0-9][A-Za-z0-9_-]*\.[A-Za-z0-9][A-Za-z0-9_-]*$`}
			}
		}
		for name, x := range n {
			if left, ok := x.(map[string]any); ok && name == "fileLeftBox" {
				allowNull(left)
			}
			constrainNames(x)
		}
	case []any:
		for _, x := range n {
			constrainNames(x)
		}
	}
}

func allowNull(box map[string]any) {
	fit := box["properties"].(map[string]any)["fit"].(map[string]any)
	item := fit["additionalProperties"].(map[string]any)
	item["anyOf"] = append(item["anyOf"].([]any), map[string]any{"type": "null", "description": "takes it out"})
}
