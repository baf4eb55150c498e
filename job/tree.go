package job

import (
	"encoding/json"
	"math"
	"strconv"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// deepest is how many lists and mappings may lie within one another.
const deepest = 24

// valueKind is what a value of the file is.
type valueKind uint8

const (
	isNull valueKind = iota
	isBool
	isNumber
	isText
	isList
	isMap
)

// value is one value of the file with its place: the file as data, in the
// order in which it was written, without YAML's finer points.
type value struct {
	at      place
	kind    valueKind
	text    string   // of a scalar, as written
	refused bool     // reported already: nothing else is said about it
	items   []*value // of a list, or the values of a map
	keys    []key    // of a map, beside items
}

// key is one key of a map with its place.
type key struct {
	name string
	at   place
}

// field finds the value under a key; nil if there is none or v is no map.
func (v *value) field(name string) *value {
	_, x := v.entry(name)
	return x
}

// entry finds a key and its value in a map.
func (v *value) entry(name string) (key, *value) {
	if v != nil && v.kind == isMap {
		for i, k := range v.keys {
			if k.name == name {
				return k, v.items[i]
			}
		}
	}
	return key{}, nil
}

// step goes one step down: a key of a map or an index of a list. The place is
// that of the key, or of the list's item.
func (v *value) step(name string) (place, *value) {
	if k, x := v.entry(name); x != nil {
		return k.at, x
	}
	if v != nil && v.kind == isList {
		if i, err := strconv.Atoi(name); err == nil && i >= 0 && i < len(v.items) {
			return v.items[i].at, v.items[i]
		}
	}
	return place{}, nil
}

// walk follows a path as far as it exists: the value reached, the place that
// names it, and whether the path was followed to its end.
func (v *value) walk(path ...string) (at place, reached *value, whole bool) {
	at = v.at
	for _, name := range path {
		p, next := v.step(name)
		if next == nil {
			return at, v, false
		}
		at, v = p, next
	}
	return at, v, true
}

// plain turns the value into what JSON would give, for the schema.
func (v *value) plain() any {
	switch v.kind {
	case isNull:
		return nil
	case isBool:
		return v.text == "true" || v.text == "True" || v.text == "TRUE"
	case isNumber:
		return json.Number(v.text)
	case isText:
		return v.text
	case isList:
		list := make([]any, len(v.items))
		for i, x := range v.items {
			list[i] = x.plain()
		}
		return list
	}
	m := make(map[string]any, len(v.keys))
	for i, k := range v.keys {
		m[k.name] = v.items[i].plain()
	}
	return m
}

// planter turns a syntax tree into values and reports what a job file may not
// contain.
type planter struct {
	*reporter
	anchors bool // that anchors are not used has been said
}

func placeOf(t *token.Token) place {
	if t == nil || t.Position == nil {
		return place{1, 1}
	}
	return place{max(t.Position.Line, 1), max(t.Position.Column, 1)}
}

// start is where a node begins in the text; for a mapping in block form its
// token is the first colon, so the first key is asked instead.
func start(n ast.Node) place {
	switch v := n.(type) {
	case *ast.MappingNode:
		if !v.IsFlowStyle && len(v.Values) > 0 && v.Values[0].Key != nil {
			return placeOf(v.Values[0].Key.GetToken())
		}
	case *ast.MappingValueNode:
		if v.Key != nil {
			return placeOf(v.Key.GetToken())
		}
	}
	return placeOf(n.GetToken())
}

// value converts one node. What is not allowed is reported and becomes null.
func (p *planter) value(n ast.Node, depth int) *value {
	if n == nil {
		return &value{at: place{1, 1}}
	}
	v := &value{at: start(n)}
	if depth > deepest {
		v.refused = true
		p.report(v.at, "a job needs no more than six", "lists and mappings lie more than %d deep within one another", deepest)
		return v
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		p.mapping(v, n.Values, depth)
	case *ast.MappingValueNode:
		p.mapping(v, []*ast.MappingValueNode{n}, depth)
	case *ast.SequenceNode:
		v.kind = isList
		for _, x := range n.Values {
			item := p.value(x, depth+1)
			if x == nil {
				item.at = v.at
			}
			v.items = append(v.items, item)
		}
	case *ast.AnchorNode:
		p.anchor(v)
		return p.value(n.Value, depth+1)
	case *ast.TagNode:
		p.report(v.at, "leave it out", "tags such as %.20s are not used in a job file", n.GetToken().Value)
		return p.value(n.Value, depth+1)
	default:
		p.scalar(v, n)
	}
	return v
}

// anchor says once for the file that anchors and aliases are not used.
func (p *planter) anchor(v *value) {
	if !p.anchors {
		p.report(v.at, "write the value out in each place", "anchors (&) and aliases (*) are not used in a job file")
	}
	p.anchors = true
}

func (p *planter) scalar(v *value, n ast.Node) {
	switch n := n.(type) {
	case *ast.NullNode:
	case *ast.BoolNode:
		v.kind, v.text = isBool, n.GetToken().Value
	case *ast.StringNode:
		v.kind, v.text = isText, n.Value
	case *ast.LiteralNode:
		v.kind, v.text = isText, n.Value.Value
	case *ast.IntegerNode, *ast.FloatNode:
		p.number(v, n.GetToken().Value)
	case *ast.InfinityNode, *ast.NanNode:
		v.refused = true
		p.report(v.at, "write an ordinary number", "%s is not a number that can be used", n.GetToken().Value)
	case *ast.AliasNode:
		v.refused = true
		p.anchor(v)
	default:
		v.refused = true
		p.report(v.at, "leave it out", "this part of YAML is not used in a job file")
	}
}

// number keeps the number as JSON would write it.
func (p *planter) number(v *value, text string) {
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		if i, wrong := strconv.ParseInt(text, 0, 64); wrong == nil {
			f, err = float64(i), nil
		}
	}
	if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
		v.refused = true
		p.report(v.at, "write an ordinary number, or put it in quotes if it is a name", "%.40s is not a number that can be used", text)
		return
	}
	v.kind, v.text = isNumber, strconv.FormatFloat(f, 'g', -1, 64)
}

func (p *planter) mapping(v *value, values []*ast.MappingValueNode, depth int) {
	v.kind = isMap
	first := make(map[string]place, len(values))
	for _, pair := range values {
		k, ok := p.key(pair.Key)
		if !ok {
			continue
		}
		if before, again := first[k.name]; again {
			p.report(k.at, "keep one of the two, or give it another name", "%q is given a second time; it is already on line %d", k.name, before.line)
			continue
		}
		first[k.name] = k.at
		x := p.value(pair.Value, depth+1)
		if x.kind == isNull && !x.refused {
			x.at = k.at
		}
		v.keys = append(v.keys, k)
		v.items = append(v.items, x)
	}
}

func (p *planter) key(n ast.MapKeyNode) (k key, ok bool) {
	k.at = placeOf(n.GetToken())
	switch n := n.(type) {
	case *ast.StringNode:
		k.name = n.Value
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NullNode:
		k.name = n.GetToken().Value
	case *ast.MergeKeyNode:
		p.report(k.at, "write the values out in each place", "merging (<<) is not used in a job file")
		return k, false
	default:
		p.report(k.at, `write "name: value"`, "this is not a plain name before a colon")
		return k, false
	}
	return k, true
}
