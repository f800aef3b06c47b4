// Exact levels for a path that knows only regions.

package trace

import (
	"lampwarden/checker/machine"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// lamp follows a circuit's exact level along a path. The engine knows levels only
// as regions between the thresholds of the question, and takes a lamp that is in
// the region of its aim as arrived; the script has to let it arrive then.
type lamp struct {
	level, aim site.Level
	moving     bool
	soft       bool // the movement includes a fade or a ramp
	due        rehearse.Nanos
}

// move gives the level of a movement: the aim, or the first level of the region.
func (l *lamp) move(m *machine.Move) site.Level {
	switch {
	case m.Arrives:
		l.level = l.aim
	case m.Up:
		l.level = m.Lo
	default:
		l.level = m.Hi
	}
	l.moving = l.level != l.aim
	return l.level
}

// follow takes the lamp through a reaction. arrives tells that the engine took a
// movement as ended which is not due yet, so that it has to end at this moment.
func (l *lamp) follow(x machine.Lamp, at rehearse.Nanos) (level site.Level, arrives bool) {
	if l.moving && l.due <= at {
		l.level, l.moving = l.aim, false
	}
	if l.moving && x.Still && x.Request != l.aim && !x.At && !x.Closed {
		level, arrives = l.aim, true
		l.level, l.moving = l.aim, false
	}
	if x.At {
		l.level, l.aim, l.moving = x.Level, x.Level, false
	}
	switch {
	case x.Closed || x.Request == l.aim:
	case x.T == 0:
		l.level, l.aim, l.moving = x.Request, x.Request, false
	default:
		if !l.moving || l.soft || x.Soft {
			l.due, l.soft = at+rehearse.FromMillis(x.T), x.Soft
		}
		l.aim = x.Request
		l.moving = l.level != l.aim
	}
	return level, arrives
}
