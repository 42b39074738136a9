package rules

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/asked"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/syntax"
)

// conditions are the clauses of a board that ask for nothing.
var conditions = map[string]string{
	"title": "a name", "revision": "a name",
	"frequency": "a condition of other answers", "thickness": "what the board is",
	"number": "of the drawing", "owner": "of the drawing", "author": "of the drawing", "approver": "of the drawing", "date": "of the drawing", "status": "of the drawing",
	"material": "what the board is", "finish": "what the board is", "mask": "what the board is", "legend": "what the board is",
}

// values are what a board may ask of each clause: little, much, and more than
// any formula reaches.
var values = map[string][]string{
	"shielding": {"1 dB", "25 dB", "400 dB"},
	"class":     {"1", "2", "3"},
	"current":   {"0.1 A", "4 A", "40 A"},
	"rise":      {"1 K", "20 K", "400 K"},
	"voltage":   {"5 V", "60 V", "60.1 V"},
	"hazard":    {"protective_earth", "live"}, // none asks for nothing
	"impedance": {`"50 ohm, 5 %"`},            // nor does none here
}

// Each clause of the board statement asks for something, or it is said why not;
// alone on a board without a wall none is met, and each is told of.
func TestEveryClauseOfABoardIsARequestOrACondition(t *testing.T) {
	for _, c := range syntax.StatementNamed("board").Clauses {
		if conditions[c.Word] != "" {
			assert.NotContains(t, values, c.Word)
			continue
		}
		require.NotEmpty(t, values[c.Word], "%s is a request or a condition", c.Word)
		for _, v := range values[c.Word] {
			text := "board b { " + c.Word + " " + v + " }\noutline rectangle 40 mm by 30 mm\n"
			a := analyze(text)
			list := All().Check(a, checks.Options{Today: today}).Asked
			require.Len(t, list, 1, text)
			assert.Equal(t, c.Word, list[0].Clause)
			assert.Equal(t, asked.NotVerified, list[0].Verdict, text)
			found := All().Check(a, checks.Options{Today: today}).Findings
			assert.True(t, slices.ContainsFunc(found, func(f finding.Located) bool {
				return f.Rule == "not_verified" && slices.Equal(f.Items, []string{"board." + c.Word})
			}), text)
			text += "accept not_verified on board." + c.Word + " because \"measured\"\n"
			assert.Len(t, All().Check(analyze(text), checks.Options{Today: today}).Accepted, 1, text)
		}
	}
}

// shortRules are the rules that report what is short of each clause.
var shortRules = map[string]string{"shielding": "shielding_short", "current": "wall_current", "class": "wall_copper"}

var (
	infoClause = regexp.MustCompile(`(?m)[ \t;]*\b(?:shielding|class|current|rise|voltage|hazard|impedance|frequency) [^\n;}]*`)
	boardHead  = regexp.MustCompile(`(?m)^board \w+( *\{)?`)
)

// Whatever a board asks for, and whatever it is: each request has one answer;
// one that is not verified is a finding or accepted, one that is short a finding
// of its rule, and one that is met neither.
func TestNothingAskedGoesUnanswered(t *testing.T) {
	unraced(t)
	texts := slices.Clone(cleanBoards())
	for _, s := range langtest.Sections(t, "testdata/*.hem") {
		texts = append(texts, s.Text())
	}
	r := rand.New(rand.NewPCG(20, 6))
	verdicts := map[string]int{}
	for _, text := range texts {
		for range 4 {
			board := requesting(r, text)
			a := readText("made.hem", board)
			out := All().Check(a, checks.Options{})
			on := func(rule, item string) (n int) {
				for _, f := range out.Findings {
					if f.Rule == rule && (item == "" || slices.Contains(f.Items, item)) {
						n++
					}
				}
				for _, f := range out.Accepted {
					if f.Rule == rule && (item == "" || slices.Contains(f.Items, item)) {
						n++
					}
				}
				return n
			}
			answers := out.Asked
			given, readable := map[string]bool{}, true
			if i := a.Board().Info(); i != nil {
				readable = !i.Faulty // or its own fault is reported
				given["shielding"], given["class"], given["current"] = i.Shielding.Given(), i.Class.Given(), i.Current.Given()
				given["rise"] = i.Rise.Given() && !i.Current.Given()
				given["voltage"] = i.Voltage.Given()
				given["hazard"] = i.Hazard.Given() && i.Hazard.Text != "none" && !i.Voltage.Given()
			}
			for clause := range values {
				n := 0
				for _, x := range answers {
					if x.Clause == clause {
						n++
						verdicts[clause+" "+x.Verdict.String()]++
						assert.NotEmpty(t, x.Why)
						assert.Equal(t, map[bool]int{true: 1}[x.Verdict == asked.NotVerified && readable], on("not_verified", x.Item()), "%s\n%s", x.Line(), board)
						if clause == "voltage" && x.Verdict != asked.NotVerified {
							stand := slices.ContainsFunc(out.Findings, func(f finding.Located) bool {
								return slices.ContainsFunc(wallPairs, func(r *checks.Rule) bool { return r.Name == f.Rule })
							})
							assert.Equal(t, stand, x.Verdict == asked.Short, "%s\n%s", x.Line(), board)
						}
						if rule := shortRules[clause]; rule != "" && (x.Verdict == asked.Short || clause != "class") { // a shop may ask for more than a class
							assert.Equal(t, x.Verdict == asked.Short, on(rule, "") > 0, "%s\n%s", x.Line(), board)
						}
					}
				}
				assert.Equal(t, map[bool]int{true: 1}[given[clause]], n, "%s is answered once\n%s", clause, board)
			}
		}
	}
	for _, what := range []string{"shielding met", "shielding short", "shielding not verified", "class met", "class short", "class not verified",
		"current met", "current short", "current not verified", "rise not verified",
		"voltage met", "voltage short", "voltage not verified", "hazard not verified"} {
		assert.GreaterOrEqual(t, verdicts[what], 10, what)
	}
	t.Logf("%d boards: %v", 4*len(texts), verdicts)
}

// requesting is a text whose board asks for other things.
func requesting(r *rand.Rand, text string) string {
	if r.IntN(3) == 0 {
		text = strings.ReplaceAll(text, "copper 25 um", "copper 21 um")
	}
	at := boardHead.FindStringIndex(text)
	if at == nil {
		text, at = "board b\n"+text, []int{0, len("board b")}
	}
	var asks []string
	for _, clause := range []string{"shielding", "class", "current", "rise", "voltage", "hazard"} {
		if r.IntN(2) == 0 {
			v := append([]string{"none"}, values[clause]...)
			if clause != "hazard" {
				v = v[1:]
			}
			asks = append(asks, clause+" "+v[r.IntN(len(v))])
		}
	}
	if r.IntN(3) > 0 {
		asks = append(asks, "frequency "+[]string{"100 kHz", "100 MHz", "1 GHz", "6 GHz"}[r.IntN(4)])
	}
	head, rest := text[:at[1]], text[at[1]:]
	if !strings.HasSuffix(head, "{") {
		return head + " { " + strings.Join(asks, "; ") + " }" + rest
	}
	end := strings.Index(rest, "}")
	if end < 0 {
		return text
	}
	inside := infoClause.ReplaceAllString(rest[:end], "")
	return head + " " + strings.Join(asks, "; ") + "\n" + strings.TrimLeft(inside, "; ") + rest[end:]
}
