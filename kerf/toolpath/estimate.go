package toolpath

import (
	"time"

	"panelyard/parts"
	"panelyard/parts/length"
)

// Effort is what paths take. The times leave out that a machine slows down in corners
// and on short arcs: a job takes longer.
type Effort struct {
	Run    length.Length // one pass of all paths, leads included
	Cut    length.Length // all passes
	Down   length.Length // all plunges together
	Rapid  length.Length // above the sheet
	Passes int           // of all paths
	// Of these the time, and that of changing tools.
	CutTime, DownTime, RapidTime, ChangeTime time.Duration
}

// Time returns the whole time.
func (e Effort) Time() time.Duration { return e.CutTime + e.DownTime + e.RapidTime + e.ChangeTime }

// Add returns the sum of two efforts.
func (e Effort) Add(o Effort) Effort {
	return Effort{
		e.Run + o.Run, e.Cut + o.Cut, e.Down + o.Down, e.Rapid + o.Rapid, e.Passes + o.Passes,
		e.CutTime + o.CutTime, e.DownTime + o.DownTime, e.RapidTime + o.RapidTime, e.ChangeTime + o.ChangeTime,
	}
}

// Lift is how far above the sheet the bit travels, and Change how long it takes to
// change a tool: common practice, no source.
const (
	Lift   = 5 * length.Millimetre
	Change = 2 * time.Minute
)

// Estimate returns what the paths of one sheet take in their order, with a number of
// tool changes:
//
//	length·passes/feed + depth/plunge + rapids/rapid + changes
//
// where depth is the sum of all plunges: each pass goes down from the one before, once
// more over every tab.
func Estimate(list []Path, router parts.Router, changes int) Effort {
	router = router.Filled()
	e := Effort{Rapid: Travel(list), ChangeTime: time.Duration(changes) * Change}
	for i := range list {
		p := &list[i]
		n := len(p.Depths)
		run := p.CutLength()
		e.Run += run
		e.Cut += run * length.Length(n)
		e.Passes += n
		e.Rapid += 2 * Lift
		last := length.Length(0)
		for _, d := range p.Depths {
			e.Down += d - last
			last = d
			for _, t := range p.Tabs {
				e.Down += max(d-t.Depth, 0)
			}
		}
	}
	e.CutTime = takes(e.Cut, router.Feed)
	e.DownTime = takes(e.Down, router.Plunge)
	e.RapidTime = takes(e.Rapid, router.Rapid)
	return e
}

// takes returns the time for a way at a speed a minute.
func takes(way, speed length.Length) time.Duration {
	if speed <= 0 {
		return 0
	}
	return time.Duration(float64(way) / float64(speed) * float64(time.Minute))
}
