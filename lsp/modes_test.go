package lsp

import (
	"context"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/checks/cavity"
	"hemline/checks/rules"
	"hemline/lang"
	"hemline/lang/source"
)

// ringing is a board that resonates in its band, 1.157 GHz.
const ringing = `board b { frequency 1.2 GHz }
stack { copper top 35 um; dielectric core 1.5 mm permittivity 4.3; copper bottom 35 um }
outline rectangle 100 mm by 80 mm
plating wall { along all; net GND }
plane on top bottom net GND pullback 0.5 mm
`

// heldSolver works modes out when a test lets it.
type heldSolver struct {
	mu      sync.Mutex
	gate    chan struct{}
	begun   chan cavity.Shape
	stopped int // that were cancelled
}

func holdModes() (*heldSolver, Engine) {
	h := &heldSolver{gate: make(chan struct{}), begun: make(chan cavity.Shape, 100)}
	e := DefaultEngine()
	e.Modes = h.solve
	return h, e
}

func (h *heldSolver) solve(ctx context.Context, s cavity.Shape, w cavity.Want) ([]cavity.Mode, error) {
	h.begun <- s
	select {
	case <-h.gate:
		return cavity.Solve(ctx, s, w)
	case <-ctx.Done():
		h.mu.Lock()
		defer h.mu.Unlock()
		h.stopped++
		return nil, ctx.Err()
	}
}

func (h *heldSolver) cancelled() int {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.stopped
}

// ringingIn are the findings of cavity_resonance among what is published.
func ringingIn(p published) int { return strings.Count(p.String(), "cavity_resonance") }

// A text is published before its modes are known; when they are, so is the newest
// version, whatever has been typed meanwhile, and nothing older.
func TestModesArriveWithoutHoldingAnythingUp(t *testing.T) {
	h, e := holdModes()
	c := start(t, e)
	c.initialize(`{}`)
	c.open("file:///a.hem", ringing)
	assert.Zero(t, ringingIn(c.published()), "not yet")
	<-h.begun
	c.edit("file:///a.hem", "note \"typed meanwhile\"\n", 5, 0, 5, 0)
	p := c.published()
	assert.Equal(t, 2, *p.Version)
	assert.Zero(t, ringingIn(p))
	assert.Contains(t, c.call("textDocument/hover", at("file:///a.hem", 0, 6)), "being worked out")
	close(h.gate)
	p = c.published()
	assert.Equal(t, 2, *p.Version)
	assert.Equal(t, 1, ringingIn(p), "now it is there")
	assert.Contains(t, c.call("textDocument/hover", at("file:///a.hem", 0, 6)), "first mode, top to bottom: 1.16 GHz")
	assert.Empty(t, h.begun, "what was under way went on: the planes are the same")
	assert.Zero(t, h.cancelled())
}

// Where nothing of the planes changes the finding stays with each keystroke, and
// nothing is worked out; not even where the wall's statement changes in what is no shape.
func TestModesStayWhileTheGeometryDoes(t *testing.T) {
	h, e := holdModes()
	close(h.gate)
	c := start(t, e)
	c.initialize(`{}`)
	c.open("file:///a.hem", ringing)
	c.published()
	require.Equal(t, 1, ringingIn(c.published()))
	<-h.begun
	c.edit("file:///a.hem", "n", 5, 0, 5, 0)
	assert.Equal(t, 1, ringingIn(c.published()))
	c.edit("file:///a.hem", "", 5, 0, 5, 1)
	assert.Equal(t, 1, ringingIn(c.published()))
	c.edit("file:///a.hem", "; copper 25 um", 3, 33, 3, 33)
	assert.Equal(t, 1, ringingIn(c.published()), "the wall's copper is no shape")
	assert.Empty(t, h.begun)
}

// What a newer version has no use for is stopped, and nothing of it is published.
func TestModesOfAnOldGeometryAreStopped(t *testing.T) {
	h, e := holdModes()
	c := start(t, e)
	c.initialize(`{}`)
	c.open("file:///a.hem", ringing)
	c.published()
	<-h.begun
	c.edit("file:///a.hem", "60", 2, 18, 2, 21) // 60 mm by 80 mm: 1.506 GHz, out of the band
	assert.Equal(t, 2, *c.published().Version)
	<-h.begun
	require.Eventually(t, func() bool { return h.cancelled() == 1 }, 5*time.Second, time.Millisecond, "the first is stopped")
	close(h.gate)
	assert.True(t, c.quiet())
	c.edit("file:///a.hem", "100", 2, 18, 2, 20)
	for p := c.published(); ringingIn(p) == 0; p = c.published() {
		assert.Equal(t, 3, *p.Version)
	}
	assert.Equal(t, 1, h.cancelled())
}

func TestModesOfAClosedTextAreStopped(t *testing.T) {
	h, e := holdModes()
	c := start(t, e)
	c.initialize(`{}`)
	c.open("file:///a.hem", ringing)
	c.published()
	<-h.begun
	c.close("file:///a.hem")
	c.published()
	require.Eventually(t, func() bool { return h.cancelled() == 1 }, 5*time.Second, time.Millisecond)
}

// A client that pulls is told to ask again.
func TestModesForAClientThatPulls(t *testing.T) {
	h, e := holdModes()
	c := start(t, e)
	c.initialize(`{"textDocument":{"diagnostic":{}},"workspace":{"diagnostics":{"refreshSupport":true}}}`)
	c.open("file:///a.hem", ringing)
	pull := func() string {
		return c.call("textDocument/diagnostic", map[string]any{"textDocument": map[string]any{"uri": "file:///a.hem"}})
	}
	assert.NotContains(t, pull(), "cavity_resonance")
	close(h.gate)
	c.wait("the question to ask again", func() bool { return len(c.notes[methodDiagnosticRefresh]) == 1 })
	assert.Contains(t, pull(), "cavity_resonance")
}

// When all is worked out the server has found what a plain check of the text finds.
func TestModesAgreeWithAPlainCheck(t *testing.T) {
	for _, name := range []string{"receiver", "front_end"} {
		path := "../examples/broken/" + name + ".hem"
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		plain := rules.All().Check(lang.Analyze(source.New(path, string(data)), source.Read, nil), checks.Options{Today: today()})
		d := newDocuments(DefaultEngine())
		d.open(uriOf(absolute(path)), nil, string(data))
		doc := d.current().byURI[uriOf(absolute(path))]
		first := doc.outcome()
		if len(first.Waits) > 0 {
			at := time.Now()
			require.NoError(t, d.modes.WorkOut(context.Background(), first.Waits))
			t.Logf("%s: %d cavities, %v", name, len(first.Waits), time.Since(at))
			d.renew(doc.uri)
			doc = d.current().byURI[doc.uri]
		}
		out := doc.outcome()
		assert.Empty(t, out.Waits)
		require.Len(t, out.Findings, len(plain.Findings))
		for i, f := range plain.Findings {
			assert.Equal(t, f.Rule, out.Findings[i].Rule)
			assert.Equal(t, strings.ReplaceAll(f.Message, "../examples/", ""), strings.ReplaceAll(out.Findings[i].Message, absolute("../examples")+"/", ""))
		}
	}
}

// An acceptance of what only modes tell is not called unused while they are being worked out, nor
// once they are: it silences what they then tell.
func TestWhatIsAcceptedOfModesIsNotCalledUnused(t *testing.T) {
	h, e := holdModes()
	c := start(t, e)
	c.initialize(`{}`)
	c.open("file:///a.hem", ringing+"accept cavity_resonance on b because \"measured\"\naccept cavity_resonance on wall because \"measured\"\n")
	first := c.published().String()
	assert.NotContains(t, first, "acceptance_unused", "not known yet")
	<-h.begun
	close(h.gate)
	second := c.published().String()
	assert.Equal(t, 1, strings.Count(second, "acceptance_unused"), "of the wall there is none: %s", second)
	assert.Contains(t, second, "6:7-6:23 4 acceptance_unused")
	assert.NotContains(t, second, "cavity_resonance")
}

// A client that asks for findings and cannot be told to ask again is answered once modes are known.
func TestWhoCannotBeToldToAskAgainWaits(t *testing.T) {
	c := start(t, DefaultEngine())
	c.initialize(`{"textDocument":{"diagnostic":{}}}`)
	c.open("file:///a.hem", ringing)
	assert.Contains(t, c.call("textDocument/diagnostic", map[string]any{"textDocument": map[string]any{"uri": "file:///a.hem"}}), "cavity_resonance")
}
