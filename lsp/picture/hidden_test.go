package picture

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/source"
)

// What nobody sees is shown by its number on the page; the ids that items are found
// by, which the page does not show, hold it as the text does.
func TestNothingHiddenIsShown(t *testing.T) {
	text := "board \"b\u202Ex\" { title \"T\u200Bx\"; revision \"r\u202E\"; shielding 30 dB; thickness 1.6 mm }\noutline rectangle 60 mm by 40 mm\n" +
		"plating \"wa\u202Ell\" { along south; net \"G\u200BND\"; wrap top 0.3 mm }\ngap \"g\u2066\" of \"wa\u202Ell\" on south at 20 mm width 1 mm\n" +
		"tab \"t\u2060\" on north at 20 mm width 3 mm solid\nconnector \"c\u202E\" on west at middle { body 9.5 mm; pin top width 1.3 mm length 4 mm }\naccept extension_short on \"wa\u202Ell\" because \"agre\u202Eed\"\n"
	a := lang.Analyze(source.New("n.hem", text), nil, nil)
	var frame any
	require.NoError(t, json.Unmarshal(encode(Of(a, rules.All().Check(a, checks.Options{}), "n\u202E.hem", true), 1), &frame))
	shown, ids := 0, 0
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for key, part := range v {
				walk(key, part)
			}
		case []any:
			for _, part := range v {
				walk(at, part)
			}
		case string:
			switch hidden := len(source.Hidden(v, 0, len(v))) > 0; {
			case at == "id" || at == "items":
				ids++
			default:
				shown++
				assert.False(t, hidden, "%s: %q", at, v)
			}
		}
	}
	walk("", frame)
	assert.Greater(t, shown, 30)
	assert.Positive(t, ids)
	assert.Contains(t, string(encode(Of(a, rules.All().Check(a, checks.Options{}), "", true), 1)), `"name":"wa\\u{202E}ll"`)
}
