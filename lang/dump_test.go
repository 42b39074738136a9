package lang_test

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// dump writes all that a board holds, what only its package sees too, so that
// two boards can be compared for being the same. Where a place stands is what
// place says; one object met twice is written once and then by its number, so
// that items that share an edge must do so in both boards.
func dump(b *board.Board, place func(source.Place) string) string {
	d := dumper{seen: map[seenKey]int{}, place: place}
	d.value(reflect.ValueOf(b), "\n")
	return d.out.String()
}

type seenKey struct {
	at uintptr
	of reflect.Type
}

type dumper struct {
	out   strings.Builder
	seen  map[seenKey]int
	place func(source.Place) string
}

var (
	placeType     = reflect.TypeFor[source.Place]()
	unitType      = reflect.TypeFor[*quantity.Unit]()
	statementType = reflect.TypeFor[*syntax.Statement]()
)

func (d *dumper) value(v reflect.Value, line string) {
	switch v.Type() {
	case placeType:
		anchor := (*source.Anchor)(v.Field(0).UnsafePointer())
		d.out.WriteString(d.place(source.Place{Anchor: anchor, Start: int32(v.Field(1).Int()), End: int32(v.Field(2).Int())}))
		return
	case unitType:
		if !v.IsNil() {
			d.out.WriteString(v.Elem().Field(0).String())
		}
		return
	case statementType: // where it stands is in the places; what it says is the item
		d.out.WriteString("statement")
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		d.pointer(v, line)
	case reflect.Interface:
		if v.IsNil() {
			d.out.WriteString("none")
			return
		}
		d.out.WriteString(v.Elem().Type().String())
		d.value(v.Elem(), line)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).IsZero() || beside(v.Field(i).Type()) {
				continue
			}
			d.out.WriteString(line + v.Type().Field(i).Name + ": ")
			d.value(v.Field(i), line+"  ")
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			d.out.WriteString(line + strconv.Itoa(i) + " ")
			d.value(v.Index(i), line+"  ")
		}
	case reflect.Map:
		d.table(v, line)
	default:
		d.plain(v)
	}
}

// beside tells whether a type is no part of what a board says: how it was
// made, and what is made of it when it is asked for.
func beside(t reflect.Type) bool {
	return t.Kind() == reflect.Pointer && t.Elem().Name() == "env" || t == reflect.TypeFor[*geom.Index]() || t == reflect.TypeFor[atomic.Pointer[geom.Index]]() || t.PkgPath() == "sync" || t == reflect.TypeFor[*sync.Map]() || t.Kind() == reflect.Func
}

func (d *dumper) pointer(v reflect.Value, line string) {
	if v.IsNil() {
		d.out.WriteString("none")
		return
	}
	key := seenKey{v.Pointer(), v.Type()}
	n, again := d.seen[key]
	if !again {
		n = len(d.seen)
		d.seen[key] = n
	}
	fmt.Fprintf(&d.out, "#%d", n)
	if !again {
		d.value(v.Elem(), line)
	}
}

// table writes a map in the order of its keys.
func (d *dumper) table(v reflect.Value, line string) {
	keys := v.MapKeys()
	slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	for _, k := range keys {
		d.out.WriteString(line + fmt.Sprint(k) + " ")
		d.value(v.MapIndex(k), line+"  ")
	}
}

func (d *dumper) plain(v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		d.out.WriteString(strconv.FormatFloat(v.Float(), 'g', -1, 64))
	case reflect.String:
		d.out.WriteString(strconv.Quote(v.String()))
	default:
		fmt.Fprint(&d.out, v)
	}
}

// everything writes all that an analysis says: its model, the findings of the
// text and those of the rules, each with the places it speaks of.
func everything(a *lang.Analysis) string { return everythingSince(a, nil) }

// everythingSince is the same where a session holds what the check of another
// version found.
func everythingSince(a *lang.Analysis, session *checks.Session) string {
	place := func(p source.Place) string {
		file, span, ok := a.Locate(p)
		switch {
		case ok:
			return fmt.Sprintf("%s:%d-%d", file.Path(), span.Start, span.End)
		case p.Anchor == nil:
			return "nowhere"
		}
		return "LOST"
	}
	var out strings.Builder
	write := func(f finding.Finding) {
		fmt.Fprintf(&out, "%s %s %s: %s %q\n", place(f.Place), f.Category, f.Rule, f.Message, f.Items)
		for _, r := range f.Related {
			fmt.Fprintf(&out, "  %s: %s\n", place(r.Place), r.Message)
		}
		if f.Fix != nil {
			fmt.Fprintf(&out, "  fix: %s\n", f.Fix.Title)
			for _, e := range f.Fix.Edits {
				fmt.Fprintf(&out, "    %s %q\n", place(e.Place), e.Text)
			}
		}
	}
	for _, d := range a.Documents() {
		fmt.Fprintf(&out, "%s: %d statements\n", d.File().Path(), len(d.Statements()))
		for _, s := range d.Statements() {
			fmt.Fprintf(&out, "%s %q\n", place(s.Whole()), s.Text())
		}
	}
	out.WriteString("the text's findings\n")
	for _, f := range a.Findings() {
		write(f)
	}
	out.WriteString("the rules' findings\n")
	for _, f := range rules.All().Check(a, checks.Options{Session: session}).Findings {
		write(f.Finding)
	}
	out.WriteString("the board")
	out.WriteString(dump(a.Board(), place))
	return out.String()
}
