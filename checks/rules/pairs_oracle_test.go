//go:build !race

package rules

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/finding"
)

const (
	laidBoards = 2750
	leastPairs = 100 // of each row and two kinds, on either side of the limit
)

// oneSided are the rows that cannot come on both sides of a limit, or of which
// only the nearest of several pieces tells, and why.
var oneSided = map[string]string{
	"ties_meet run-run": "a run keeps its plane's pullback from the other wall, and the other run from this one: only where the pullbacks are the same or platings lie over each other do two surely meet",
}

// seldom are the rows that hardly ever come up, and what else tries them.
var seldom = map[string]string{
	"copper_clearance run-run": "two runs lie so near and do not overlap only where walls face each other across a few millimetres; the mistakes with pairs have it",
}

// pairRules are the rules that hold pairs; all that they find the oracle must
// find as well, and the other way round.
var pairRules = map[string]bool{}

func init() {
	for _, name := range strings.Fields(`wrap_clearance plane_short wall_short castellation_on_plating launch_clearance launch_blocked
		copper_clearance edge_pullback hole_web fence_inset hole_edge castellation_spacing neck_narrow cutout_outside connectors_meet
		body_clearance body_shorts tab_near_connector tab_gap_tight tab_on_plating tabs_crowded mask_web mask_bares net_conflict
		ties_meet tie_unstated planes_overlap item_outside plating_twice plating_conflict relief_conflict tab_missing gap_astray gap_unbridged`) {
		pairRules[name] = true
	}
}

type judged struct {
	Rule     string   `json:"rule"`
	On       []string `json:"on"`
	Kinds    string   `json:"kinds"`
	Distance float64  `json:"distance"`
	Need     float64  `json:"need"`
}

func (j judged) key() string { return pairKey(j.Rule, j.On) }

func pairKey(rule string, on []string) string {
	on = slices.Compact(slices.Sorted(slices.Values(on)))
	return rule + " " + strings.Join(on, " ")
}

type judgement struct {
	Must   []judged `json:"must"`
	May    []judged `json:"may"`
	Counts [][3]any `json:"counts"`
	Skip   []string `json:"skip"` // cutouts that cross a profile
	Error  string   `json:"error"`
}

// askPairs has all boards judged at once.
func askPairs(t *testing.T, boards []*laid) []judgement {
	t.Helper()
	const interpreter = "/usr/bin/python3"
	if err := exec.Command(interpreter, "-c", "import shapely").Run(); err != nil {
		require.Empty(t, os.Getenv("HEMLINE_CI"), "shapely is needed where HEMLINE_CI is set")
		t.Skip("python3-shapely is not installed")
	}
	// Read here, so that a test's result is not kept past a change of the oracle.
	sources, err := filepath.Glob("testdata/oracle/*.py")
	require.NoError(t, err)
	for _, name := range sources {
		_, err := os.ReadFile(name)
		require.NoError(t, err)
	}
	in, err := json.Marshal(boards)
	require.NoError(t, err)
	var stdout, stderr bytes.Buffer
	ctx, cancel := context.WithTimeout(t.Context(), 15*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, interpreter, "-B", "testdata/oracle")
	cmd.WaitDelay = time.Second // the script's own workers outlive it, and hold its output
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(in), &stdout, &stderr
	require.NoError(t, cmd.Run(), stderr.String())
	var a []judgement
	require.NoError(t, json.Unmarshal(stdout.Bytes(), &a))
	return a
}

// found is what the rules say of each board's pairs.
func foundPairs(t *testing.T, boards []*laid) []map[string]string {
	t.Helper()
	list := make([]map[string]string, len(boards))
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.NumCPU() {
		wg.Go(func() {
			for i := range next {
				list[i] = map[string]string{}
				for _, f := range underAll(analyze(boards[i].text.String())) {
					switch {
					case f.Category == finding.Language:
						assert.Fail(t, "a board that does not read", "%s: %s\n%s", f.Rule, f.Message, boards[i].text.String())
					case pairRules[f.Rule]:
						on := f.Items
						switch f.Rule {
						case "body_shorts": // of three: the body is enough
							on = on[:1]
						case "tab_missing": // on whichever plating is first
							on = nil
						}
						on = slices.DeleteFunc(slices.Clone(on), func(n string) bool { return n == "outline" })
						list[i][pairKey(f.Rule, on)] = f.Message
					}
				}
			}
		})
	}
	for i := range boards {
		next <- i
	}
	close(next)
	wg.Wait()
	return list
}

// TestPairsAgainstShapely holds everything on boards made at random against
// everything else twice: by the rules, and by the oracle, which knows the
// language's reference and nothing of the program. Outside 2 µm of a limit they
// must say the same.
//
// The boards are rectangles, with round corners too, circles and drawn outlines
// with arcs, notches and tongues, most with cutouts. Two thirds of what lies on
// them comes of recipes, two things about as far apart as their limit, and the
// rest of scenes, which place all that a pair needs. Each line of the counts
// must come up at least leastPairs times found and as many times not; of what
// is found the worst pair of the two items counts alone, of what is not, each.
//
// The oracle says nothing, either way:
//   - within 2 µm of a limit, and where one cause has another finding: copper
//     near an edge that lies off the board, a wrap nearer than its wall along
//     the profile, a pin that meets a wall, a tab that stands on one;
//   - where the contract has two readings: walls of two nets round a corner of
//     one profile, a half hole of the wall's own net, a run's shape beside what
//     is not its wall, what a cutout cuts off a wrap, an opening's corners, its
//     end where the profile bends, the lands of a row of several nets under one
//     relief, pads at the very end of an edge before a round corner, and a bare
//     edge between one and one and a half limits from the end of its stretch;
//   - within 2.5 mm of a cutout that crosses another profile, on one board of 25;
//   - of castellation_corner, and of all rules that are not in pairRules.
func TestPairsAgainstShapely(t *testing.T) {
	boards := make([]*laid, laidBoards)
	for i := range boards {
		boards[i] = lay(uint64(i))
	}
	var answers []judgement
	done := make(chan struct{})
	go func() {
		defer close(done) // a failure ends this goroutine
		answers = askPairs(t, boards)
	}()
	program := foundPairs(t, boards)
	<-done
	require.Len(t, answers, len(boards))
	if dir := os.Getenv("HEMLINE_ORACLE"); dir != "" { // to look at, and to judge again
		for name, what := range map[string]any{"boards.json": boards, "program.json": program, "answers.json": answers} {
			data, err := json.Marshal(what)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
		}
		for i, b := range boards {
			require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.hem", i)), []byte(b.text.String()), 0o644))
		}
	}
	differ := map[string]int{}
	counts := map[string]*[2]int{}
	for i, a := range answers {
		require.Empty(t, a.Error, "board %d\n%s", i, boards[i].text.String())
		for _, line := range differences(a, program[i]) {
			kind := strings.SplitN(line, ":", 2)[0]
			if differ[kind]++; differ[kind] <= 6 {
				t.Logf("board %d: %s", i, line)
			}
		}
		for _, c := range a.Counts {
			k := fmt.Sprintf("%-24s %s", c[0], c[1])
			if counts[k] == nil {
				counts[k] = &[2]int{}
			}
			if c[2].(bool) {
				counts[k][0]++
			} else {
				counts[k][1]++
			}
		}
	}
	for _, k := range slices.Sorted(maps.Keys(counts)) {
		t.Logf("%-60s below %5d, kept %5d", k, counts[k][0], counts[k][1])
	}
	for _, k := range slices.Sorted(maps.Keys(counts)) {
		below, kept := counts[k][0], counts[k][1]
		name := strings.Join(strings.Fields(k), " ")
		switch reason := oneSided[name]; {
		case seldom[name] != "":
		case reason == "":
			assert.GreaterOrEqual(t, below, leastPairs, "%s: below its limit", k)
			assert.GreaterOrEqual(t, kept, leastPairs, "%s: at its limit or beyond", k)
		default:
			assert.GreaterOrEqual(t, below+kept, leastPairs, "%s (%s)", k, reason)
		}
	}
	for _, k := range slices.Sorted(maps.Keys(differ)) {
		t.Errorf("%d differences: %s", differ[k], k)
	}
}

// differences are what only one of the two has found.
func differences(a judgement, program map[string]string) []string {
	var list []string
	known := map[string]bool{}
	for _, j := range a.May {
		known[j.key()] = true
	}
	for _, j := range a.Must {
		known[j.key()] = true
		if _, ok := program[j.key()]; !ok {
			list = append(list, fmt.Sprintf("missed %s %s: %s, %.4f mm of %.4f mm", j.Rule, j.Kinds, j.key(), j.Distance, j.Need))
		}
	}
	for k, message := range program {
		crossing := slices.ContainsFunc(strings.Fields(k)[1:], func(n string) bool { return slices.Contains(a.Skip, n) })
		if !known[k] && (!crossing || strings.HasPrefix(k, "cutout_outside")) {
			rule, _, _ := strings.Cut(k, " ")
			list = append(list, fmt.Sprintf("alarm %s: %s: %s", rule, k, message))
		}
	}
	return list
}
