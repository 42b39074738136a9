package lsp

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
)

func TestAKeystrokeChangesTheDiagnostics(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "all is bad here")
	p := c.published()
	assert.Equal(t, "file:///a.hem", p.URI)
	assert.Equal(t, 1, *p.Version)
	assert.Equal(t, "0:7-0:10 1 toy_bad", p.String())
	assert.Equal(t, "hemline", p.Diagnostics[0].Source)
	assert.Equal(t, "found bad", p.Diagnostics[0].Message)

	c.edit("file:///a.hem", "", 0, 7, 0, 8)
	p = c.published()
	assert.Equal(t, 2, *p.Version)
	assert.NotNil(t, p.Diagnostics, "the empty list is a list")
	assert.Empty(t, p.Diagnostics)

	c.edit("file:///a.hem", "\nb", 0, 7, 0, 7)
	p = c.published()
	assert.Equal(t, 3, *p.Version)
	assert.Equal(t, "1:0-1:3 1 toy_bad", p.String())

	c.close("file:///a.hem")
	p = c.published()
	assert.Nil(t, p.Version)
	assert.Empty(t, p.Diagnostics)
	assert.Equal(t, 2, toy.reused, "each analysis after the first is given the one before")
}

func TestSeverityFollowsTheCategory(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{"textDocument":{"publishDiagnostics":{"tagSupport":{"valueSet":[1,2]}}}}`)
	c.open("file:///a.hem", "bad loose dear idle")
	p := c.published()
	assert.Equal(t, "0:0-0:3 1 toy_bad; 0:4-0:9 2 toy_loose; 0:10-0:14 3 toy_dear; 0:15-0:19 4 gap_idle", p.String())
	assert.Nil(t, p.Diagnostics[0].Tags)
	assert.Equal(t, []int{1}, p.Diagnostics[3].Tags)
}

func TestATagIsSentOnlyToWhoKnowsIt(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "idle")
	assert.Nil(t, c.published().Diagnostics[0].Tags)
}

func TestRelatedPlaces(t *testing.T) {
	for _, knows := range []bool{true, false} {
		t.Run(fmt.Sprint(knows), func(t *testing.T) {
			c := start(t, newToy().engine())
			c.initialize(fmt.Sprintf(`{"textDocument":{"publishDiagnostics":{"relatedInformation":%v}}}`, knows))
			c.open("untitled:Untitled-1", "bad\n\nwhy")
			d := c.published().Diagnostics[0]
			if knows {
				assert.Equal(t, "found bad", d.Message)
				assert.JSONEq(t, `[{"location":{"uri":"untitled:Untitled-1","range":{"start":{"line":2,"character":0},"end":{"line":2,"character":3}}},"message":"because of this"}]`, string(d.Related))
			} else {
				assert.Equal(t, "found bad\nline 3: because of this", d.Message)
				assert.Nil(t, d.Related)
			}
		})
	}
}

// While one analysis is under way, what is typed becomes one state, and
// nothing of the states between is analysed or published.
func TestABurstComesDownToItsLastState(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "wait")
	<-toy.waiting
	c.edit("file:///a.hem", "wait more")
	<-toy.waiting
	for i := range 100 {
		c.edit("file:///a.hem", fmt.Sprintf("bad %d", i))
	}
	id := c.ask("textDocument/documentSymbol", at("file:///a.hem", 0, 0))
	c.answer(id) // all 100 have been read
	close(toy.gate)
	p := c.published()
	assert.Equal(t, 102, *p.Version)
	assert.Equal(t, "0:0-0:3 1 toy_bad", p.String())
	c.call("textDocument/hover", at("file:///a.hem", 0, 0))
	assert.True(t, c.quiet(), "nothing else is published")
	assert.Equal(t, []string{"wait", "wait more", "bad 99"}, toy.analysed)
}

// A newer text does not wait for the check of an older one, which is still going on.
func TestANewerTextDoesNotWaitForAnOlderCheck(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "wait")
	<-toy.waiting
	c.edit("file:///a.hem", "bad")
	assert.Equal(t, 2, *c.published().Version, "the first check has not come to its end")
	c.edit("file:///a.hem", "bad bad")
	assert.Equal(t, 3, *c.published().Version)
	close(toy.gate)
	c.call("textDocument/hover", at("file:///a.hem", 0, 0))
	assert.True(t, c.quiet(), "nothing is published of what is old")
}

// A check that nobody wants any more ends before its next rule; whoever does want
// its outcome has it worked out.
func TestAStaleCheckEnds(t *testing.T) {
	engine := DefaultEngine()
	engine.Soon = 0 // as of a long text
	var stopped, whole atomic.Int32
	under, newer := make(chan struct{}), make(chan struct{})
	engine.Check = func(a *lang.Analysis, o checks.Options) checks.Outcome {
		if o.Stale != nil && a.Root().Text() == "let old = 1\n" {
			close(under)
			<-newer
		}
		out := check(a, o)
		if out.Stopped {
			stopped.Add(1)
		} else {
			whole.Add(1)
		}
		return out
	}
	c := start(t, engine)
	c.initialize(`{}`)
	c.open("file:///a.hem", "let old = 1\n")
	<-under
	id := c.ask("textDocument/codeLens", at("file:///a.hem", 0, 0)) // reads the outcome of the old text
	c.edit("file:///a.hem", "let young = 1\n")
	assert.Equal(t, 2, *c.published().Version)
	close(newer)
	require.Nil(t, c.answer(id).Error)
	assert.Equal(t, int32(1), stopped.Load())
	assert.Equal(t, int32(2), whole.Load(), "the new text's, and the old one's for the request")
}

func TestARequestIsAnsweredFromTheStateItArrivedWith(t *testing.T) {
	toy := newToy()
	c := start(t, toy.engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "wait first")
	id := c.ask("textDocument/hover", at("file:///a.hem", 0, 6))
	c.edit("file:///a.hem", "second, second")
	assert.Equal(t, "0:0-0:6", rangeOf(t, c.call("textDocument/hover", at("file:///a.hem", 0, 6))), "a later request does not wait")
	close(toy.gate)
	assert.Equal(t, "0:5-0:10", rangeOf(t, string(c.answer(id).Result)))
}

func rangeOf(t *testing.T, result string) string {
	t.Helper()
	var r struct {
		Range struct{ Start, End struct{ Line, Character int } }
	}
	require.NoError(t, json.Unmarshal([]byte(result), &r))
	return fmt.Sprintf("%d:%d-%d:%d", r.Range.Start.Line, r.Range.Start.Character, r.Range.End.Line, r.Range.End.Character)
}

func TestAPanicCostsOneAnswer(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "crash here")
	c.published()
	assert.Equal(t, -32603, c.fails("textDocument/hover", at("file:///a.hem", 0, 1)))
	assert.NotEqual(t, "null", c.call("textDocument/hover", at("file:///a.hem", 0, 7)))
	assert.Contains(t, c.logged.String(), "textDocument/hover: crash")
	assert.Contains(t, c.logged.String(), "toy_test.go", "with the stack of the panic")
}

func TestAPanicInTheAnalysisCostsOneVersion(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "boom")
	assert.Equal(t, "0:0-0:0 1 internal_defect", c.published().String())
	assert.Equal(t, -32603, c.fails("textDocument/hover", at("file:///a.hem", 0, 0)))
	c.edit("file:///a.hem", "bad")
	assert.Equal(t, "0:0-0:3 1 toy_bad", c.published().String())
}

func TestLifecycle(t *testing.T) {
	c := start(t, newToy().engine())
	assert.Equal(t, -32002, c.fails("textDocument/hover", at("file:///a.hem", 0, 0)))
	assert.Equal(t, -32002, c.fails("shutdown", nil))
	c.open("file:///a.hem", "bad") // before initialize: ignored
	c.initialize(`{}`)
	assert.Equal(t, -32600, c.fails("initialize", map[string]any{"capabilities": map[string]any{}}))
	assert.Equal(t, -32602, c.fails("textDocument/hover", at("file:///a.hem", 0, 0)), "not open")
	assert.Equal(t, -32601, c.fails("textDocument/nonsense", nil))
	assert.Equal(t, -32601, c.fails("$/nonsense", nil))
	c.notify("$/nonsense", map[string]any{})
	c.notify("workspace/nonsense", []any{})
	assert.Equal(t, "null", c.call("shutdown", map[string]any{}), "with params that mean nothing")
	assert.Equal(t, -32600, c.fails("textDocument/hover", at("file:///a.hem", 0, 0)))
	assert.Equal(t, -32600, c.fails("shutdown", nil))
	c.open("file:///a.hem", "bad") // after shutdown: ignored
	c.notify("exit", map[string]any{})
	assert.Equal(t, 0, c.exitCode())
	assert.True(t, c.quiet())
	assert.Empty(t, c.logged.String())
}

func TestExitWithoutShutdownIsAFailure(t *testing.T) {
	for _, phase := range []string{"fresh", "running"} {
		t.Run(phase, func(t *testing.T) {
			c := start(t, newToy().engine())
			if phase == "running" {
				c.initialize(`{}`)
			}
			c.notify("exit", nil)
			assert.Equal(t, 1, c.exitCode())
		})
	}
}

func TestTheEndOfTheInputEndsTheServer(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.open("file:///a.hem", "bad")
	id := c.ask("textDocument/hover", at("file:///a.hem", 0, 0))
	c.in.Close()
	assert.NotEqual(t, "null", string(c.answer(id).Result), "what was asked before is answered")
	assert.Len(t, c.published().Diagnostics, 1)
	assert.Equal(t, 1, c.exitCode())
}

func TestTheEndOfTheClientsProcessEndsTheServer(t *testing.T) {
	sleep := exec.Command("sleep", "60")
	require.NoError(t, sleep.Start())
	c := start(t, newToy().engine())
	c.call("initialize", map[string]any{"processId": sleep.Process.Pid, "capabilities": map[string]any{}})
	require.NoError(t, sleep.Process.Kill())
	_ = sleep.Wait() // it was killed
	assert.Equal(t, 1, c.exitCode())
}

// A client in another container names a process that does not exist here.
func TestAProcessThatNeverWasIsNotMissed(t *testing.T) {
	sleep := exec.Command("sleep", "0")
	require.NoError(t, sleep.Run())
	gone := make(chan struct{})
	watchParent(sleep.Process.Pid, gone) // returns at once
	select {
	case <-gone:
		t.Fatal("it was taken for gone")
	default:
	}
}

func TestAnswersToNothingAreDropped(t *testing.T) {
	c := start(t, newToy().engine())
	c.initialize(`{}`)
	c.raw(frame(`{"jsonrpc":"2.0","id":7,"result":null}`))
	c.raw(frame(`{"jsonrpc":"2.0","id":null,"error":{"code":-32700,"message":"what?"}}`))
	c.call("shutdown", nil)
	c.notify("exit", nil)
	assert.Equal(t, 0, c.exitCode())
	assert.Equal(t, []string{"1", "2"}, c.order, "neither is answered")
}
