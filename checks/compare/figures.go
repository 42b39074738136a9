package compare

import (
	"fmt"
	"math"
	"strings"

	"hemline/checks/report"
)

// leastShare is by how much of itself a figure must change to be told: what is less is rounding.
const leastShare = 1e-6

func figuresOf(was, is *report.Report, names map[string]string) (list []Figure) {
	type key struct{ of, name string }
	before := map[key]report.Figure{}
	each := func(r *report.Report, visit func(key, report.Figure)) {
		for _, f := range r.Board.Figures {
			visit(key{"board", f.Name}, f)
		}
		for _, i := range r.Items {
			for _, f := range i.Figures {
				visit(key{i.Kind + " " + i.Name, f.Name}, f)
			}
		}
	}
	each(was, func(k key, f report.Figure) {
		if now := names[k.of]; now != "" {
			k.of = now
		}
		before[k] = f
	})
	each(is, func(k key, f report.Figure) {
		old, there := before[k]
		delete(before, k)
		if !there && k.of != "board" {
			return // of an item that is new, which says so
		}
		d := Figure{Of: k.of, Detail: Detail{k.name, figureText(old), figureText(f)}}
		if old.Value != nil && f.Value != nil {
			if math.Abs(*f.Value-*old.Value) <= leastShare*math.Max(math.Abs(*f.Value), math.Abs(*old.Value)) {
				return
			}
			if *old.Value != 0 {
				share := (*f.Value - *old.Value) / math.Abs(*old.Value)
				d.Share = &share
			}
		}
		if d.Before != d.After {
			list = append(list, d)
		}
	})
	return list
}

// figureText is a figure's value with its unit, "" for none.
func figureText(f report.Figure) string {
	if f.Value == nil {
		return ""
	}
	text := fmt.Sprintf("%.4g %s", *f.Value, f.Unit)
	if f.Bound != "" {
		text = f.Bound + " " + text
	}
	return strings.TrimSpace(text)
}
