package highlight

import (
	"encoding/xml"
	"fmt"
	"strings"
)

// nameRegexp is a name with its dots, as editors with regular expressions of
// Unicode classes take it.
const nameRegexp = `[\p{L}_][\p{L}\p{N}_]*(?:\.[\p{L}\p{N}_]+)*`

// Kate is the syntax definition for Kate and what else reads its form.
func Kate() []byte {
	statements, clauses := words()
	var b strings.Builder
	b.WriteString(xml.Header + "<!DOCTYPE language>\n<!-- Generated from the vocabulary; see DEVELOPERS.md. -->\n" +
		`<language name="hem" section="Other" version="1" kateversion="5.62" extensions="*.hem" casesensitive="1" ` +
		`indenter="cstyle" license="Apache-2.0">` + "\n  <highlighting>\n")
	for _, list := range []struct {
		name  string
		words []string
	}{{"statements", statements}, {"clauses", clauses}, {"constants", constants()}} {
		fmt.Fprintf(&b, "    <list name=%q>\n", list.name)
		for _, w := range list.words {
			fmt.Fprintf(&b, "      <item>%s</item>\n", w)
		}
		b.WriteString("    </list>\n")
	}
	rule := func(attribute, context, pattern string) {
		fmt.Fprintf(&b, `      <RegExpr attribute="%s" context="%s" String="%s"/>`+"\n", attribute, context, escapeXML(pattern))
	}
	b.WriteString("    <contexts>\n" +
		`      <context name="Normal" attribute="Normal Text" lineEndContext="#stay">` + "\n" +
		"      <DetectSpaces/>\n" +
		`      <Detect2Chars attribute="Comment" context="Comment" char="/" char1="/"/>` + "\n" +
		`      <DetectChar attribute="Text" context="Text" char="&quot;"/>` + "\n")
	rule("Number", "Unit", `[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?`)
	rule("Function", "#stay", `\b(?:`+alternatives(functions())+`)(?=[ \t]*\()`)
	for _, list := range [][2]string{{"Statement", "statements"}, {"Clause", "clauses"}, {"Constant", "constants"}} {
		fmt.Fprintf(&b, `      <keyword attribute="%s" context="#stay" String="%s"/>`+"\n", list[0], list[1])
	}
	rule("Name", "#stay", nameRegexp)
	b.WriteString(`      <DetectChar attribute="Brace" context="#stay" char="{" beginRegion="block"/>` + "\n" +
		`      <DetectChar attribute="Brace" context="#stay" char="}" endRegion="block"/>` + "\n" +
		`      <AnyChar attribute="Operator" context="#stay" String="-+*/="/>` + "\n" +
		"      </context>\n" +
		`      <context name="Unit" attribute="Normal Text" lineEndContext="#pop" fallthrough="1" fallthroughContext="#pop">` + "\n" +
		"      <DetectSpaces/>\n")
	rule("Unit", "#pop", unitRegexp())
	b.WriteString("      </context>\n" +
		`      <context name="Comment" attribute="Comment" lineEndContext="#pop">` + "\n" +
		`      <DetectSpaces/>` + "\n" + `      <IncludeRules context="##Comments"/>` + "\n" + "      </context>\n" +
		`      <context name="Text" attribute="Text" lineEndContext="#pop">` + "\n" +
		`      <RegExpr attribute="Escape" context="#stay" String="\\[&quot;\\]"/>` + "\n" +
		`      <DetectChar attribute="Text" context="#pop" char="&quot;"/>` + "\n" +
		"      </context>\n    </contexts>\n    <itemDatas>\n")
	for _, style := range [][2]string{
		{"Normal Text", "dsNormal"}, {"Statement", "dsKeyword"}, {"Clause", "dsDataType"}, {"Constant", "dsConstant"},
		{"Function", "dsFunction"}, {"Name", "dsVariable"}, {"Number", "dsDecVal"}, {"Unit", "dsAttribute"},
		{"Operator", "dsOperator"}, {"Brace", "dsNormal"}, {"Comment", "dsComment"}, {"Text", "dsString"}, {"Escape", "dsSpecialChar"},
	} {
		fmt.Fprintf(&b, "      <itemData name=%q defStyleNum=%q/>\n", style[0], style[1])
	}
	b.WriteString("    </itemDatas>\n  </highlighting>\n  <general>\n    <comments>\n" +
		`      <comment name="singleLine" start="//" position="afterwhitespace"/>` + "\n" +
		"    </comments>\n" + `    <keywords casesensitive="1" weakDeliminator="."/>` + "\n  </general>\n</language>\n")
	return []byte(b.String())
}

func escapeXML(text string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(text)
}
