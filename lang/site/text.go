// The building's words: readable text for levels, times, inputs and
// conditions, as reasons and reports show them.

package site

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// String gives a level as the language writes it: "0 %", "30 %", "0.25 %".
func (l Level) String() string {
	whole, part := l/100, l%100
	if part == 0 {
		return fmt.Sprintf("%d %%", whole)
	}
	return strings.TrimRight(fmt.Sprintf("%d.%02d", whole, part), "0") + " %"
}

// String gives a duration with the largest unit that shows it exactly: "2 h",
// "90 s", "300 ms".
func (m Millis) String() string {
	switch {
	case m == 0:
		return "0 s"
	case m%3_600_000 == 0:
		return strconv.FormatInt(int64(m/3_600_000), 10) + " h"
	case m%60_000 == 0:
		return strconv.FormatInt(int64(m/60_000), 10) + " min"
	case m%1000 == 0:
		return strconv.FormatInt(int64(m/1000), 10) + " s"
	}
	return strconv.FormatInt(int64(m), 10) + " ms"
}

// Clock gives a time of day: "07:00", "22:00:05", "22:00:05.250". A time of a
// later day is shown as its time of day.
func (m Millis) Clock() string {
	m = ((m % Day) + Day) % Day
	h, min, s, ms := m/3_600_000, m/60_000%60, m/1000%60, m%1000
	switch {
	case ms != 0:
		return fmt.Sprintf("%02d:%02d:%02d.%03d", h, min, s, ms)
	case s != 0:
		return fmt.Sprintf("%02d:%02d:%02d", h, min, s)
	}
	return fmt.Sprintf("%02d:%02d", h, min)
}

// weekdays are the words for the days of the week, from Monday.
func weekdays() []string { return []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"} }

// Weekday gives the day of a time of the week: "Mon" to "Sun". A time of a later week is shown as its day.
func (m Millis) Weekday() string { return weekdays()[((m%Week)+Week)%Week/Day] }

// WeekClock gives a time of the week: "Fri 21:59".
func (m Millis) WeekClock() string { return m.Weekday() + " " + m.Clock() }

// String gives a set of days as the language writes it: "Mon to Fri", "Sat, Sun"; "every day" for all of them. A
// stretch of three days or more is a range, which may run over the end of the week: "Fri to Mon".
func (d Days) String() string {
	const all = 1<<7 - 1
	if d&all == 0 || d&all == all {
		return "every day"
	}
	first := 0
	for !d.Has(first) || d.Has((first+6)%7) {
		first++ // the start of a stretch
	}
	if d.Has(0) && !d.Has(6) {
		first = 0
	}
	var parts []string
	for i := 0; i < 7; {
		n := 0
		for i+n < 7 && d.Has((first+i+n)%7) {
			n++
		}
		from, to := weekdays()[(first+i)%7], weekdays()[(first+i+max(n, 1)-1)%7]
		switch {
		case n >= 3:
			parts = append(parts, from+" to "+to)
		case n == 2:
			parts = append(parts, from, to)
		case n == 1:
			parts = append(parts, from)
		}
		i += max(n, 1)
	}
	return strings.Join(parts, ", ")
}

// HasDays tells whether some band or clock time of the site is bound to days of the week.
func (s *Site) HasDays() bool {
	for i := range s.Bands {
		if s.Bands[i].Days != 0 {
			return true
		}
	}
	some := func(ts []Trigger) bool { return slices.ContainsFunc(ts, func(t Trigger) bool { return t.Days != 0 }) }
	for i := range s.Modes {
		m := &s.Modes[i]
		if some(m.Starts) || some(m.Ends) ||
			slices.ContainsFunc(m.Transitions, func(t Transition) bool { return t.Trigger.Days != 0 }) {
			return true
		}
	}
	return false
}

// String gives the word of the language that declares an input of the kind; a
// SupplyHealth input is declared by its supply.
func (k InputKind) String() string {
	return [...]string{"presence", "contact", "alarm", "switch", "supply", "button", "bell", "daylight", "holidays",
		"battery", "fault"}[k]
}

// String gives the gesture as the language writes it: "double tap".
func (g Gesture) String() string {
	return [...]string{"tap", "double tap", "triple tap", "long press", "release"}[g]
}

// ValueWord gives the word of the language for a value of a level input of the
// kind: "open" and "closed" for a contact, and so on. Presence, daylight, holidays and faults have words
// that are for reports only.
func (k InputKind) ValueWord(value bool) string {
	words := map[InputKind][2]string{
		Presence:     {"none", "sensed"},
		Contact:      {"closed", "open"},
		Alarm:        {"clear", "raised"},
		Switch:       {"off", "on"},
		SupplyHealth: {"live", "lost"},
		Daylight:     {"below", "at least"},
		Calendar:     {"off", "on"},
		Flatness:     {"charged", "flat"},
		Failure:      {"over", "there"},
	}[k]
	if value {
		return words[1]
	}
	return words[0]
}

// ChangeText tells that a level input has taken a value: "mains lost",
// "hall_pir senses presence".
func (s *Site) ChangeText(id InputID, value bool) string {
	in := &s.Inputs[id]
	if in.Kind == Daylight {
		return s.daylightChange(in, value)
	}
	if in.Kind == Presence {
		if value {
			return in.Name + " senses presence"
		}
		return in.Name + " senses nobody"
	}
	if in.Kind == Flatness || in.Kind == Failure {
		return in.failureText(value)
	}
	return in.Name + " " + in.Kind.ValueWord(value)
}

// EventText tells of an event: "triple tap bed_key", "front_door rings".
func (s *Site) EventText(id InputID, g Gesture) string {
	in := &s.Inputs[id]
	if in.Kind == Bell {
		return in.Name + " rings"
	}
	return g.String() + " " + in.Name
}

// CircuitsText names a set of circuits as shortly as the site's own words
// allow: "all circuits", a group, "circuits in escape areas", or a list.
func (s *Site) CircuitsText(ids []CircuitID) string {
	if what := s.selection(ids); what != "" {
		if what == "circuits" {
			return "all circuits"
		}
		return what
	}
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = s.Circuits[id].Name
	}
	return joinWords(names, "and")
}

// selection finds words for a set of at least two circuits: "circuits" (all of
// them), the name of a group, "circuits in hall", "circuits in escape areas".
// It returns "" when there are none.
func (s *Site) selection(ids []CircuitID) string {
	want := slices.Compact(slices.Sorted(slices.Values(ids)))
	if len(want) < 2 {
		return ""
	}
	for i := range s.Groups {
		g := slices.Compact(slices.Sorted(slices.Values(s.Groups[i].Circuits)))
		if slices.Equal(g, want) {
			return s.Groups[i].Name
		}
	}
	lamps := s.circuitsWhere(func(*Area) bool { return true })
	if slices.Equal(want, lamps) {
		return "circuits"
	}
	if s.Circuits[want[0]].Area == None {
		return "" // an output
	}
	first := &s.Areas[s.Circuits[want[0]].Area]
	for _, around := range s.around(s.Circuits[want[0]].Area) {
		if slices.Equal(want, s.CircuitsIn(around)) {
			return "circuits in " + s.Areas[around].Name
		}
	}
	for _, tag := range first.Tags {
		if slices.Equal(want, s.circuitsWhere(func(a *Area) bool { return a.HasTag(tag) })) {
			return "circuits in " + tag + " areas"
		}
	}
	return ""
}

// around lists an area and those that it lies in, from the inside out.
func (s *Site) around(a AreaID) []AreaID {
	var out []AreaID
	for a != None && len(out) < len(s.Areas) {
		out = append(out, a)
		a = s.Areas[a].Parent
	}
	return out
}

// circuitsWhere returns the circuits of the areas that f accepts, ascending. An output has no area.
func (s *Site) circuitsWhere(f func(*Area) bool) []CircuitID {
	var out []CircuitID
	for i := range s.Circuits {
		if a := s.Circuits[i].Area; a != None && f(&s.Areas[a]) {
			out = append(out, CircuitID(i))
		}
	}
	return out
}

// joinWords makes "a", "a and b", "a, b and c".
func joinWords(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " " + last + " " + words[n]
}
