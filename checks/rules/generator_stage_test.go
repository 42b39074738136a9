package rules

import (
	"fmt"
	"math/rand/v2"
	"sync"

	"hemline/checks"
)

// Boards with a stage: a bare stretch of a straight south edge, with nothing on
// it and nothing near, for two things that are put there to be too near each
// other, or just not.
const (
	stageLong  = 24 * millimetre
	stageDeep  = 13 * millimetre
	stagesMade = 8
)

// staging is a clean board with a stage.
type staging struct {
	text  string
	from  int64 // the position of the stage's west end
	place dot   // and its point
}

var stagings = sync.OnceValue(func() []staging {
	var list []staging
	for seed := range uint64(stagesMade) {
		list = append(list, stagedBoard(seed))
	}
	return list
})

func stagedBoard(seed uint64) staging {
	for try := uint64(0); try < 400; try++ {
		m := &maker{r: rand.New(rand.NewPCG(1000+seed, try)), names: map[string]int{}, staged: true}
		m.shop = []string{"", "standard", "advanced", "conservative", "house", ""}[seed%6]
		m.limits = checks.LimitsFor(readText("made.hem", m.shopText()))
		m.shape = []string{"rectangle", "rounded", "chamfer", "bite", "tongue"}[(seed+try/40)%5]
		if m.build(1000 + seed) {
			m.stage.text = m.String()
			return m.stage
		}
	}
	panic(fmt.Sprintf("no room for a stage on board %d", seed))
}

// keepStage looks for the stage between the tabs of the south edge.
func (m *maker) keepStage() bool {
	s := m.sides[0]
	ends := []int64{s.low + 3*millimetre}
	for _, t := range m.tabsOn(s) {
		ends = append(ends, t[0]-3*millimetre, t[1]+3*millimetre)
	}
	ends = append(ends, s.high-3*millimetre)
	for i := 0; i+1 < len(ends); i += 2 {
		from := (ends[i] + grain - 1) / grain * grain
		if ends[i+1]-from < stageLong || s.wall != nil || s.name != "south" || len(m.copper) != 4 {
			continue
		}
		room := s.standing("stage", "", throughAll, from+stageLong/2, stageLong, 0, stageDeep)
		room.stage = true
		m.stand(room)
		s.taken = append(s.taken, [2]int64{from, from + stageLong})
		m.stage = staging{from: from, place: s.point(float64(from), 0)}
		return true
	}
	return false
}
