package checks_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// What limits say and how they hold is shown by texts, as langtest.Section has
// them; one rule, wrap_land, is held to them.
func TestTexts(t *testing.T) {
	under := func(o checks.Options) langtest.Finder {
		return func(a *lang.Analysis) []finding.Located { return rules.All().Check(a, o).Findings }
	}
	one := checks.Options{Only: []*checks.Rule{rules.All().Named("wrap_land")}}
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		t.Run(s.Name(), func(t *testing.T) { s.Expect(t, under(one), under(checks.Options{})) })
	}
}

// A message names the line on which a limit stands, also when nothing but that
// line has moved since the last check.
func TestMessagesNameTheLineOfALimit(t *testing.T) {
	const (
		wall = "outline rectangle 60 mm by 40 mm\nplating wall { along west; net GND; wrap top 0.3 mm; wrap bottom 0.8 mm }\n"
		shop = "fabricator shop {\n  limit wrap_land minimum 0.4 mm\n}\n"
		used = "use \"shop.hem\"\n" + wall
		says = "wrap on top is 0.30 mm; shop asks for at least 0.40 mm (limit wrap_land, "
	)
	var session checks.Session
	var a *lang.Analysis
	for _, v := range []struct{ text, shop, line string }{
		{shop + wall, "", "a.hem:2"},
		{"\n" + shop + wall, "", "a.hem:3"},
		{"// the shop's own\n\n" + shop + wall, "", "a.hem:4"},
		{"// the shop's own\n\n" + shop + "\n" + wall, "", "a.hem:4"},
		{wall + shop, "", "a.hem:4"},
		{used, shop, "shop.hem:2"},
		{used, "// theirs\n" + shop, "shop.hem:3"},
		{used, "// theirs\nfabricator older {\n}\n" + shop, "shop.hem:5"},
		{used, shop, "shop.hem:2"},
	} {
		s := langtest.Section{Texts: map[string]string{langtest.RootPath: v.text, "shop.hem": v.shop}}
		a = lang.Analyze(source.New(langtest.RootPath, v.text), s.Reader(), a)
		var said []string
		for _, f := range rules.All().Check(a, checks.Options{Session: &session}).Findings {
			if f.Rule == "wrap_land" {
				said = append(said, f.Message)
			}
		}
		assert.Equal(t, []string{says + v.line + ")"}, said, "%s\n%s", v.text, v.shop)
	}
}
