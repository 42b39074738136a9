package figures

import (
	"container/list"
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"

	"hemline/checks/cavity"
	"hemline/checks/physics"
	"hemline/lang/board"
)

// Solver works out a cavity's modes, as cavity.Solve.
type Solver func(context.Context, cavity.Shape, cavity.Want) ([]cavity.Mode, error)

// mostKept is how many cavities' modes a store keeps: those last asked for.
const mostKept = 4 * mostCavities

// Store keeps what takes long to work out: the modes of cavities by their geometry,
// each worked out once, whoever asks, and the conductors of the board that was asked
// for last. Several goroutines may use one.
type Store struct {
	solve Solver

	mu    sync.Mutex
	kept  map[Key]*list.Element // of solved
	order *list.List            // the one asked for last first
	busy  map[Key]chan struct{} // closed when what is under way has ended

	conducting sync.Mutex
	board      *board.Board // whose conductors are kept
	conductors *Conductors
}

// Conductors are those of a board, as Conduct gives them. A nil store keeps none.
func (s *Store) Conductors(b *board.Board) *Conductors {
	if s == nil {
		return Conduct(b)
	}
	s.conducting.Lock()
	defer s.conducting.Unlock()
	if s.board != b {
		s.board, s.conductors = b, Conduct(b)
	}
	return s.conductors
}

// solved is what became of a cavity.
type solved struct {
	key   Key
	modes []cavity.Mode
	err   error
}

// NewStore makes an empty store that works with a solver; nil for cavity.Solve.
func NewStore(solve Solver) *Store {
	if solve == nil {
		solve = cavity.Solve
	}
	return &Store{solve: solve, kept: map[Key]*list.Element{}, order: list.New(), busy: map[Key]chan struct{}{}}
}

// Known is what the store has of a cavity: its modes, the lowest first, or why there
// are none to be had; ok is false for one that is not worked out yet. The modes are
// shared; they must not be changed.
func (s *Store) Known(c *Cavity) (modes []cavity.Mode, err error, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.known(c)
}

// known is Known for who holds the store.
func (s *Store) known(c *Cavity) (modes []cavity.Mode, err error, ok bool) {
	e := s.kept[c.Key]
	if e == nil {
		return nil, nil, false
	}
	s.order.MoveToFront(e)
	r := e.Value.(*solved)
	return r.modes, r.err, true
}

// Modes gives a cavity's modes, worked out if they are not known. Where ctx ends
// first its error is given, and nothing kept.
func (s *Store) Modes(ctx context.Context, c *Cavity) ([]cavity.Mode, error) {
	for {
		s.mu.Lock()
		if modes, err, ok := s.known(c); ok {
			s.mu.Unlock()
			return modes, err
		}
		under := s.busy[c.Key]
		if under == nil {
			under = make(chan struct{})
			s.busy[c.Key] = under
			s.mu.Unlock()
			return s.workOut(ctx, c, under)
		}
		s.mu.Unlock()
		select {
		case <-under: // it is known now, or whoever began it gave it up
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

func (s *Store) workOut(ctx context.Context, c *Cavity, done chan struct{}) ([]cavity.Mode, error) {
	defer func() {
		s.mu.Lock()
		delete(s.busy, c.Key)
		s.mu.Unlock()
		close(done)
	}()
	modes, err := s.solve(ctx, c.Shape, c.Want)
	if err != nil && (ctx.Err() != nil || errors.Is(err, context.Canceled)) {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.kept[c.Key] = s.order.PushFront(&solved{c.Key, modes, err})
	for s.order.Len() > mostKept {
		last := s.order.Back()
		delete(s.kept, last.Value.(*solved).key)
		s.order.Remove(last)
	}
	return modes, err
}

// WorkOut brings the modes of cavities into the store, as many at a time as there
// are processors. It gives ctx's error where that ends first; what cannot be worked
// out is known as such then.
func (s *Store) WorkOut(ctx context.Context, cavities []*Cavity) error {
	var work sync.WaitGroup
	next := make(chan *Cavity)
	for range min(len(cavities), runtime.GOMAXPROCS(0)) {
		work.Go(func() {
			for c := range next {
				_, _ = s.Modes(ctx, c)
			}
		})
	}
	for _, c := range cavities {
		next <- c
	}
	close(next)
	work.Wait()
	return ctx.Err()
}

// Dense is how many modes a cavity has up to a frequency, Hz, about:
// A·k²/4π + (open − electric)·k/4π, each being the length of such edges, a fence's on both
// sides: the two terms of Weyl's conjecture (Ivrii 1980, from memory). On rectangles
// within three, or a tenth (computed).
func (c *Cavity) Dense(f float64) float64 {
	k := 2 * math.Pi * f * math.Sqrt(c.Permittivity) / physics.C
	edges := c.Around * (1 - 2*c.Electric)
	for _, x := range c.Shape.Fences {
		for i := 1; i < len(x.Path); i++ {
			edges -= 2 * x.Path[i].Dist(x.Path[i-1])
		}
	}
	return max(0, (c.Area*k*k+edges*k)/(4*math.Pi))
}

// Resonance is a cavity with what is known of its modes.
type Resonance struct {
	*Cavity
	Modes []cavity.Mode // the lowest first; their least counts that open edges fringe
	Err   error         // why there are none to be had
}

// Resonances puts cavities together with what a store has of them; waits are those
// that it has not.
func (s *Store) Resonances(cavities []*Cavity) (list []Resonance, waits []*Cavity) {
	for _, c := range cavities {
		modes, err, ok := s.Known(c)
		if !ok {
			waits = append(waits, c)
			continue
		}
		list = append(list, Resonance{c, c.fringed(modes), err})
	}
	return list, waits
}

// fringed are modes whose least counts that open edges fringe.
func (c *Cavity) fringed(modes []cavity.Mode) []cavity.Mode {
	modes = slices.Clone(modes)
	for i := range modes {
		modes[i].Least *= 1 - c.Fringing
	}
	return modes
}

// BandMargin is how far beside a band a mode still counts, as a share: a tenth.
const BandMargin = 0.1

// InBand tells which of a cavity's modes is the first in a band, Hz, or within a tenth
// of it, and how many are; first is under 0 where none is. What a mode may be by its
// method's error and by fringing counts.
func (r Resonance) InBand(low, high float64) (first, count int) {
	first = -1
	for i, m := range r.Modes {
		if m.Least <= high*(1+BandMargin) && m.Most >= low*(1-BandMargin) {
			if count++; first < 0 {
				first = i
			}
		}
	}
	return first, count
}

// Lowest is the cavity with the lowest mode in a band, else with the lowest of all,
// and which mode; ok is false where there is none.
func Lowest(list []Resonance, low, high float64) (lowest Resonance, mode int, ok bool) {
	for _, any := range [...]bool{false, true} {
		for _, r := range list {
			i, _ := r.InBand(low, high)
			if any && len(r.Modes) > 0 {
				i = 0
			}
			if i >= 0 && (!ok || r.Modes[i].F < lowest.Modes[mode].F) {
				lowest, mode, ok = r, i, true
			}
		}
		if ok {
			break
		}
	}
	return lowest, mode, ok
}
