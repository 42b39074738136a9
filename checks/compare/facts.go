package compare

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"unicode"

	"hemline/lang/board"
	"hemline/lang/emit/wording"
	"hemline/lang/geom"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// fact is one thing that a board's model holds of an item, whatever the text writes it like.
type fact struct {
	what  string // "wrap width", "at", "net"
	shown string // in the unit that the text states it in
	key   string // equal where the same is meant, whatever the unit
	// place tells that it says where the item is.
	place bool
}

// Types that are told in a way of their own, and those that say where in a text something
// stands, which is nothing of the board.
var (
	placeType   = reflect.TypeFor[source.Place]()
	itemType    = reflect.TypeFor[board.Item]()
	valueType   = reflect.TypeFor[board.Value]()
	nameType    = reflect.TypeFor[board.Name]()
	pointType   = reflect.TypeFor[geom.Point]()
	edgeType    = reflect.TypeFor[*board.Edge]()
	loopType    = reflect.TypeFor[*geom.Loop]()
	boxType     = reflect.TypeFor[*geom.Box]()
	profileType = reflect.TypeFor[*board.Profile]()
	faceType    = reflect.TypeFor[board.Face]()
)

// derived are fields that follow from others, by type and name: a change of them is told by those.
var derived = map[string]bool{
	"Castellation.Row": true, "Castellation.From": true, "Castellation.To": true, "Castellation.Left": true,
	"Gap.Position": true, "Gap.Width": true, "Gap.Tab": true, "Gap.Connector": true, "Gap.Margin": true, "Gap.Around": true,
	"Fence.Vias": true, "Fence.LeftOut": true, "Fence.Even": true, "Fence.Wide": true, "Fence.WideAt": true, "Fence.Bare": true,
	"Choice.Plain": true,
	// What a tab or a connector opens is told as a gap, as one that is stated is.
	"Tab.Opens": true, "Connector.Opens": true,
}

// places are the fields that say where an item is.
var places = []string{"Edge", "Position", "From", "To", "Along", "Centre", "Centres", "Within", "Path"}

// factsOf are those of an item: of each exported field of its struct that the text states.
// What is new in the model is compared without a word here.
func factsOf(x any) []fact {
	f := facts{}
	v := reflect.ValueOf(x)
	for v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	f.structure(v, "", false)
	return f.list
}

type facts struct{ list []fact }

func (f *facts) add(what, shown, key string, place bool) {
	f.list = append(f.list, fact{what: strings.TrimSpace(what), shown: shown, key: key, place: place})
}

func (f *facts) structure(v reflect.Value, prefix string, place bool) {
	t := v.Type()
	for i := range t.NumField() {
		field := t.Field(i)
		if !field.IsExported() || field.Type == placeType || field.Type == itemType || derived[t.Name()+"."+field.Name] {
			continue
		}
		what := prefix
		if !field.Anonymous {
			what += " " + words(field.Name)
		}
		f.value(v.Field(i), what, place || slices.Contains(places, field.Name))
	}
}

func (f *facts) value(v reflect.Value, what string, place bool) {
	switch v.Type() {
	case valueType:
		if q := v.Interface().(board.Value); q.Given() {
			f.quantity(what, q.Quantity, place)
		}
		return
	case nameType:
		if n := v.Interface().(board.Name); n.Given() {
			f.add(what, n.Text, n.Text, place)
		}
		return
	case pointType:
		p := v.Interface().(geom.Point)
		f.add(what, pointText(p), pointKey(p), place)
		return
	case edgeType:
		if e := v.Interface().(*board.Edge); e != nil {
			f.add(what, e.Name, e.Name, place)
		}
		return
	case loopType:
		if l := v.Interface().(*geom.Loop); l != nil {
			f.add(what, loopText(l), loopKey(l), place)
		}
		return
	case boxType:
		if b := v.Interface().(*geom.Box); b != nil {
			f.add(what, pointText(b.Min)+" to "+pointText(b.Max), pointKey(b.Min)+" "+pointKey(b.Max), place)
		}
		return
	case profileType:
		return
	case faceType:
		text := fmt.Sprint(v.Interface())
		f.add(what, text, text, place)
		return
	}
	f.plain(v, what, place)
}

func (f *facts) plain(v reflect.Value, what string, place bool) {
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			f.add(what, "yes", "yes", place)
		}
	case reflect.Float64:
		f.add(what, lengthText(v.Float()), lengthKey(v.Float()), place)
	case reflect.String:
		if v.String() != "" {
			f.add(what, v.String(), v.String(), place)
		}
	case reflect.Pointer:
		if v.IsNil() {
			return
		}
		if i, ok := v.Interface().(interface{ Base() *board.Item }); ok { // another item: its name says it
			f.add(what, i.Base().Name.Text, i.Base().Name.Text, place)
			return
		}
		f.value(v.Elem(), what, place)
	case reflect.Struct:
		f.structure(v, what, place)
	case reflect.Slice, reflect.Array:
		f.series(v, what, place)
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, k := range keys {
			f.value(v.MapIndex(k), what+" "+k.String(), place)
		}
	}
}

// series are the facts of a list: those of simple things on one line, others each by itself, by its
// name or number.
func (f *facts) series(v reflect.Value, what string, place bool) {
	var shown, keys []string
	for i := range v.Len() {
		one := facts{}
		one.value(v.Index(i), "", place)
		name, field := firstName(v.Index(i))
		switch {
		case len(one.list) == 1 && one.list[0].what == "":
			shown, keys = append(shown, one.list[0].shown), append(keys, one.list[0].key)
		case place: // a stretch: edge, from, to
			var s, k []string
			for _, x := range one.list {
				s, k = append(s, strings.TrimSpace(x.what+" "+x.shown)), append(k, x.key)
			}
			shown, keys = append(shown, strings.Join(s, " ")), append(keys, strings.Join(k, " "))
		default:
			for _, x := range one.list {
				if name == "" {
					name = fmt.Sprint(i + 1)
				}
				if x.what == field && x.shown == name {
					continue // it is what the others stand under
				}
				f.add(what+" "+name+" "+x.what, x.shown, x.key, x.place)
			}
		}
	}
	if len(shown) > 0 {
		f.add(what, strings.Join(shown, ", "), strings.Join(keys, ", "), place)
	}
}

// firstName is the first name that a struct holds, and of which field: what tells it from others of a
// list. Empty where it holds none.
func firstName(v reflect.Value) (name, field string) {
	if v.Kind() != reflect.Struct {
		return "", ""
	}
	for i := range v.NumField() {
		if v.Type().Field(i).Type == nameType {
			return v.Field(i).Interface().(board.Name).Text, words(v.Type().Field(i).Name)
		}
	}
	return "", ""
}

func (f *facts) quantity(what string, q quantity.Quantity, place bool) {
	f.add(what, q.String(), fmt.Sprintf("%s %.9g", q.Dim, q.Value), place)
}

// words are those of a field's name: "LandWidth" is "land width".
func words(field string) string {
	var b strings.Builder
	for i, r := range field {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// lengthKey tells lengths apart by a tenth of a nanometre, nm.
func lengthKey(nm float64) string { return fmt.Sprintf("%.1f", nm+0) }

func lengthText(nm float64) string { return wording.Millimetres(nm) + " mm" }

func pointText(p geom.Point) string { return "(" + wording.Pair(p) + ") mm" }

func pointKey(p geom.Point) string { return lengthKey(p.X) + "," + lengthKey(p.Y) }

// loopText says how large a closed path is, and where: its box and its area.
func loopText(l *geom.Loop) string {
	b := l.Box()
	return fmt.Sprintf("%s by %s mm from %s, %.4g mm²", wording.Millimetres(b.Max.X-b.Min.X), wording.Millimetres(b.Max.Y-b.Min.Y), pointText(b.Min), math.Abs(l.SignedArea())/1e12)
}

// loopKey is every piece of a closed path, in order from its least point, so that two of one
// shape are equal wherever they start.
func loopKey(l *geom.Loop) string {
	var list []string
	first := 0
	for i, s := range l.Segments() {
		list = append(list, fmt.Sprintf("%s %.3f", pointKey(s.A), s.Length()))
		if list[i] < list[first] {
			first = i
		}
	}
	return strings.Join(append(list[first:len(list):len(list)], list[:first]...), "; ")
}
