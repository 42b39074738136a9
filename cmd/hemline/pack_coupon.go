package main

import (
	"fmt"
	"path"
	"strings"

	"hemline/checks"
	"hemline/checks/figures"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/coupon"
	"hemline/lang/emit/drawing"
	"hemline/lang/emit/layers"
	"hemline/lang/emit/notes"
	"hemline/lang/emit/plot"
	"hemline/lang/emit/wording"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// makeCoupons makes a coupon of each plated wall where the criteria ask for one.
func (p *made) makeCoupons(s *streams) error {
	b := p.r.analysis.Board()
	if !coupon.Required(b) || b.Outline() == nil {
		return nil
	}
	taken := map[string]bool{}
	for _, c := range coupon.Make(b, checks.LimitsFor(p.r.analysis).ForCoupon(b)) {
		name := strings.ToLower(layers.Plain(c.Name))
		for taken[name] {
			name += "_"
		}
		taken[name] = true
		files, says, err := p.makeCoupon(s, c)
		if err != nil {
			return err
		}
		folder := path.Join("coupon", name)
		p.coupon = append(p.coupon, bundle.Under(folder, files)...)
		p.coupons = append(p.coupons, fmt.Sprintf("%s, of plating %s: %s", folder, strings.Join(c.Of, ", "), says))
	}
	return nil
}

// makeCoupon makes the files of one coupon, held to the same shop as the board,
// and says what stands against it.
func (p *made) makeCoupon(s *streams, c coupon.Coupon) (files []bundle.File, says string, err error) {
	const name = "coupon.hem"
	text := source.New(name, c.Text)
	r := checkAs(name, name, p.r.today, func(string) (*source.File, error) { return text, nil }, nil, figures.NewStore(nil))
	if says = "no finding stands against it"; len(r.Findings) > 0 {
		list := make([]string, len(r.Findings))
		for i, x := range r.Findings {
			list[i] = x.Rule + ": " + x.Message
		}
		says = wording.Plural(len(list), "finding") + " against it: " + strings.Join(list, "; ")
	}
	files = []bundle.File{{Name: name, Role: "coupon text", About: "the coupon's own text", Data: []byte(c.Text)}}
	for _, x := range r.Findings {
		if x.Category == finding.Language { // what is made of the rest would pass for all of it
			return files, "it cannot be drawn, " + says, nil
		}
	}
	b := r.analysis.Board()
	sheets, err := drawn(s, r, shapesOf(r.analysis), drawing.Options{Date: p.issued, Notes: notes.Sections(fabricationNotes(r))})
	if err != nil {
		return nil, "", err
	}
	plan, err := plot.PDF(sheets, plot.About{Title: titleOf(b), Date: p.issued})
	if err != nil {
		return nil, "", err
	}
	files = append(files, bundle.File{Name: "drawing.pdf", Role: "coupon drawing", About: "the coupon's drawing; " + wording.Plural(len(sheets), "sheet"), Data: plan})
	o := checks.LimitsFor(r.analysis).ForLayers()
	o.Version, o.Created, o.Part = release(), p.issued, layers.Coupon
	list, err := layers.Build(b, o)
	if err != nil {
		return nil, "", err
	}
	for _, f := range bundle.Under("layers", list) {
		if f.Role = "coupon layer"; f.Function == "" {
			f.Role = "readme"
		}
		files = append(files, f)
	}
	return files, says, nil
}
