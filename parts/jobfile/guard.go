package jobfile

import (
	"fmt"

	"github.com/goccy/go-yaml/token"
)

// level is a collection that is open while tokens are looked at: a block one by
// the rank of its indentation, a flow one by its bracket.
type level struct {
	rank    int
	keys    int
	entries int // of a list
}

// flow is the rank of a collection in brackets, which no indentation closes.
const flow = 1 << 40

// longest is how long a list of any kind may be; where it is read it may have to
// be shorter.
const longest = max(MaxEntries, MaxVertices)

// guard reports whether tokens may be parsed: the parser recurses on every level
// of nesting and on every key of a block, and its cost grows with the square of
// both, and of the entries of a list. The levels are told from brackets and
// columns alone.
func (r *reader) guard(tokens token.Tokens) bool {
	var open []level
	// enter makes the collection of a rank the innermost one, and returns it.
	enter := func(rank int) *level {
		for len(open) > 0 && open[len(open)-1].rank > rank && open[len(open)-1].rank != flow {
			open = open[:len(open)-1]
		}
		if n := len(open); n == 0 || open[n-1].rank < rank || open[n-1].rank == flow {
			open = append(open, level{rank: rank})
		}
		return &open[len(open)-1]
	}
	inFlow := 0
	for _, t := range tokens {
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			inFlow++
			open = append(open, level{rank: flow})
		case token.SequenceEndType, token.MappingEndType:
			for inFlow > 0 {
				last := open[len(open)-1]
				open = open[:len(open)-1]
				if last.rank == flow {
					inFlow--
					break
				}
			}
		case token.MappingValueType:
			if inFlow > 0 {
				open[len(open)-1].keys++
				break
			}
			key := t
			if t.Prev != nil && t.Prev.Position.Line == t.Position.Line {
				key = t.Prev
			}
			enter(2*key.Position.Column).keys++
		case token.MappingKeyType:
			if inFlow == 0 {
				enter(2*t.Position.Column).keys++
			}
		case token.SequenceEntryType:
			// A list may stand in the column of the key it belongs to, inside it.
			if inFlow == 0 {
				enter(2*t.Position.Column+1).entries++
			}
		case token.CollectEntryType:
			if inFlow > 0 {
				open[len(open)-1].entries++
			}
		case token.DocumentHeaderType, token.DocumentEndType:
			open, inFlow = nil, 0
		}
		if len(open) > MaxDepth {
			r.list.Add(r.at(t), "", fmt.Sprintf("is nested more than %d deep", MaxDepth), "a job file needs five levels; close brackets and check the indentation")
			return false
		}
		if len(open) == 0 {
			continue
		}
		switch last := open[len(open)-1]; {
		case last.keys > MaxEntries:
			r.list.Add(r.at(t), "", fmt.Sprintf("a group has more than %d keys", MaxEntries), "start each entry of a list with a dash")
			return false
		case last.entries > longest:
			r.list.Add(r.at(t), "", fmt.Sprintf("a list has more than %d entries", longest), "split the job, or draw simpler outlines")
			return false
		}
	}
	return true
}
