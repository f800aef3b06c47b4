// Golden reports. Run with -update to write them anew, and read the difference.

package report

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/resolve"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

var update = flag.Bool("update", false, "write the golden files anew")

const twoRooms = `site "Two Rooms"
supply mains
battery ups { capacity 100 Wh  charged by mains }
controller { fed by ups  reacts within 300 ms }
area hall : escape
area room : sleeping
circuit hall_spots in hall { dims 1 % to 100 %  power 42 W  fed by ups }
circuit room_main, room_bed in room { dims  fed by mains  fade 700 ms }
presence room_pir in room
button key in room
alarm fire
mode fire_alarm { while fire  first flash all circuits 2 times, 500 ms on, 500 ms off  then all circuits full }
mode night { starts on triple tap key  ends on triple tap key, at 07:00  all circuits off }
mode welcome { while presence in room, off delay 5 min  circuits in room at 60 % }
mode reading { states idle, bright  on tap key: idle -> bright -> idle  in bright: room_bed at 30 % }
precedence night > fire_alarm > welcome
precedence fire_alarm > reading
equals welcome, reading: highest
assume changes of fire at least 2 s apart
require "the way out is at full on fire" {
    whenever fire then within 5 s every circuit in escape areas at full until not fire
}
require "nights are dark" { never night and room_main lit }
require "the hold ends" { welcome and not presence in room lasts at most 5 min }
require "the reading light can be had" { room_bed at 30 % is possible }
require "the hall flashes slowly" { at most 1 times hall_spots lit within 2 s }
require "no visit without a key" { room_bed at 30 % only after tap key since fire }
require "welcome is long enough" { welcome lasts at least 6 min }
`

// read makes a site from a text.
func read(t *testing.T, text string) (*site.Site, *source.Set) {
	t.Helper()
	set := &source.Set{}
	tree, ds := syntax.Parse(set.Add("plans/two-rooms.lamp", text))
	if ds.HasErrors() {
		t.Fatal(source.Renderer{Set: set}.Text(ds[0]))
	}
	s, ds := resolve.Resolve([]*syntax.File{tree})
	if ds.HasErrors() {
		t.Fatal(source.Renderer{Set: set}.Text(ds[0]))
	}
	return s, set
}

// run is a builder of a report on a site.
type run struct {
	t   *testing.T
	s   *site.Site
	rep *checker.Report
}

func newRun(t *testing.T, text string) *run {
	s, set := read(t, text)
	return &run{t, s, &checker.Report{Site: s, Sources: set, Assumed: []string{
		"Changes of fire come at least 2 s apart.", "The controller keeps running and does not restart."}}}
}

func (r *run) requirement(name string) (int, *site.Requirement) {
	for i := range r.s.Requirements {
		if r.s.Requirements[i].Name == name {
			return i, &r.s.Requirements[i]
		}
	}
	r.t.Fatalf("no requirement %q", name)
	return 0, nil
}

// verdict adds an outcome without a story.
func (r *run) verdict(name string, v checker.Verdict, reason string) {
	i, _ := r.requirement(name)
	r.rep.Outcomes = append(r.rep.Outcomes, checker.Outcome{Requirement: i, Verdict: v, Reason: reason})
}

// story adds an outcome whose counterexample is the script, which must break the requirement (or reach it).
func (r *run) story(name string, v checker.Verdict, sc rehearse.Script, focus ...string) {
	r.t.Helper()
	i, req := r.requirement(name)
	tl, err := rehearse.Run(r.s, sc)
	if err != nil {
		r.t.Fatal(err)
	}
	j, err := rehearse.Judge(r.s, tl, req)
	if err != nil {
		r.t.Fatal(err)
	}
	cx := &trace.Counterexample{Script: sc, Timeline: tl, Judgement: j}
	if !cx.Judgement.Broken && !cx.Judgement.Witness {
		r.t.Fatalf("the script does not break %q", name)
	}
	for _, c := range focus {
		cx.Focus = append(cx.Focus, r.s.CircuitNamed(c))
	}
	r.rep.Outcomes = append(r.rep.Outcomes, checker.Outcome{Requirement: i, Verdict: v, Counterexample: cx})
}

const second = 1000 * rehearse.Milli

func clock(h, m int) rehearse.Nanos { return rehearse.Nanos(h*3600+m*60) * second }

func (r *run) level(at rehearse.Nanos, name string, value bool) rehearse.Event {
	return rehearse.Event{At: at, Input: r.s.InputNamed(name), Value: value}
}

func (r *run) tap(at rehearse.Nanos, g site.Gesture) rehearse.Event {
	return rehearse.Event{At: at, Input: r.s.InputNamed("key"), Gesture: g}
}

// golden compares a report with its golden file, after checks that every report must pass.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	if strings.HasSuffix(name, ".txt") {
		checkText(t, string(got), 80)
	}
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("%s (-want +got):\n%s", path, d)
	}
}

// checkText: no line is too wide, none ends in a blank, and nothing can steer a terminal.
func checkText(t *testing.T, text string, width int) {
	t.Helper()
	for i, l := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(l); n > width {
			t.Errorf("line %d has %d columns: %q", i+1, n, l)
		}
		if strings.TrimRight(l, " ") != l {
			t.Errorf("line %d ends in a blank: %q", i+1, l)
		}
		for _, c := range l {
			if c < ' ' || c == 0x7f || c == '\u202e' || c == '\u200b' {
				t.Errorf("line %d has the control character %U", i+1, c)
			}
		}
	}
}

func (r *run) text(o Options) []byte {
	r.t.Helper()
	var b bytes.Buffer
	if err := Tell(r.rep, o).Text(&b, o); err != nil {
		r.t.Fatal(err)
	}
	return b.Bytes()
}

// failing is a report with a failure of every kind that the site can show.
func failing(t *testing.T) *run {
	r := newRun(t, twoRooms)
	r.verdict("the hold ends", checker.Proved, "")
	r.story("the way out is at full on fire", checker.Fails, rehearse.Script{
		Start: clock(22, 0), End: 10 * second,
		Events: []rehearse.Event{r.tap(second, site.TripleTap), r.level(2*second, "fire", true)},
	}, "hall_spots")
	r.story("nights are dark", checker.Fails, rehearse.Script{
		Start: clock(22, 0), End: 10 * second, Initial: []site.InputID{r.s.InputNamed("room_pir")},
		Events: []rehearse.Event{r.tap(5*second, site.TripleTap)},
	}, "room_main")
	r.story("the reading light can be had", checker.IsPossible, rehearse.Script{
		Start: clock(12, 0), End: 10 * second, Events: []rehearse.Event{r.tap(second, site.Tap)},
	}, "room_bed")
	r.story("the hall flashes slowly", checker.Fails, rehearse.Script{
		Start: clock(23, 59), End: 100 * second, Events: []rehearse.Event{r.level(60*second+250*rehearse.Milli+1, "fire", true)},
	}, "hall_spots")
	r.story("no visit without a key", checker.Fails, rehearse.Script{
		Start: clock(12, 0), End: 10 * second,
		Events: []rehearse.Event{r.tap(second, site.Tap), r.level(4*second, "fire", true), r.level(6*second, "fire", false)},
	}, "room_bed")
	r.story("welcome is long enough", checker.Fails, rehearse.Script{
		Start: clock(12, 0), End: clock(1, 0),
		Events: []rehearse.Event{r.level(second, "room_pir", true), r.level(2*second, "room_pir", false)},
	}, "room_main")
	return r
}

func TestFailing(t *testing.T) { golden(t, "failing.txt", failing(t).text(Options{})) }

func TestFailingQuiet(t *testing.T) {
	golden(t, "failing-quiet.txt", failing(t).text(Options{Quiet: true}))
}

func TestJSON(t *testing.T) {
	r := failing(t)
	var b bytes.Buffer
	if err := Tell(r.rep, Options{}).JSON(&b); err != nil {
		t.Fatal(err)
	}
	golden(t, "failing.json", b.Bytes())
	var back Document
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if back.Version != Version || back.Verdict != "fails" || back.Counts.Fail != 5 || back.Counts.Hold != 2 {
		t.Errorf("version %d, verdict %s, counts %+v", back.Version, back.Verdict, back.Counts)
	}
}

func TestAllWell(t *testing.T) {
	r := newRun(t, twoRooms)
	for i := range r.s.Requirements {
		v := checker.Proved
		if r.s.Requirements[i].Form == site.Possible {
			v = checker.IsPossible
		}
		r.rep.Outcomes = append(r.rep.Outcomes, checker.Outcome{Requirement: i, Verdict: v})
	}
	golden(t, "all-well.txt", r.text(Options{}))
}

func TestOpenQuestions(t *testing.T) {
	r := newRun(t, twoRooms)
	r.verdict("the hold ends", checker.Undecided, "the limit of 1000 zones was reached")
	r.verdict("the way out is at full on fire", checker.Vacuous, "")
	r.verdict("the reading light can be had", checker.Impossible, "")
	tl, err := rehearse.Run(r.s, rehearse.Script{End: second})
	if err != nil {
		t.Fatal(err)
	}
	r.rep.Findings = []checker.Finding{
		{Code: checker.CodeAmbiguous, Message: "night and reading ask room_bed for different light, and nothing decides",
			Span: r.s.Modes[1].Span, Related: []source.Related{{Span: r.s.Modes[3].Span, Label: "the other mode"}},
			Counterexample: &trace.Counterexample{Timeline: tl}},
		{Code: checker.CodeNeverWins, Message: "whether this setting ever wins is open: time ran out", Span: r.s.Modes[2].Span, Undecided: true},
	}
	r.rep.Cancelled = true
	golden(t, "open.txt", r.text(Options{}))
	d := Tell(r.rep, Options{})
	if d.Counts.Fail != 2 || d.Counts.Undecided != 1 || d.Counts.Findings != 1 || d.Counts.OpenFindings != 1 {
		t.Errorf("counts %+v", d.Counts)
	}
}

// A vacuous requirement is told once, not again as a finding; the verdict still counts as failing.
func TestVacuousIsToldOnce(t *testing.T) {
	r := newRun(t, twoRooms)
	r.verdict("the way out is at full on fire", checker.Vacuous, "")
	_, req := r.requirement("the way out is at full on fire")
	r.rep.Findings = []checker.Finding{{Code: checker.CodeVacuous, Message: "says nothing", Span: req.A.Span}}
	d := Tell(r.rep, Options{})
	if len(d.Findings) != 0 || d.Verdict != "fails" || d.Counts.Fail != 1 {
		t.Errorf("findings %v, verdict %s, counts %+v", d.Findings, d.Verdict, d.Counts)
	}
}

// Nothing decided is never "proved".
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(*run)
		want string
	}{
		{"undecided", func(r *run) { r.verdict("the hold ends", checker.Undecided, "why") }, "undecided"},
		{"cancelled", func(r *run) { r.rep.Cancelled = true }, "undecided"},
		{"open finding", func(r *run) { r.rep.Findings = []checker.Finding{{Undecided: true}} }, "undecided"},
		{"finding", func(r *run) { r.rep.Findings = []checker.Finding{{Code: "x"}} }, "fails"},
		{"impossible", func(r *run) { r.verdict("the reading light can be had", checker.Impossible, "") }, "fails"},
		{"proved", func(r *run) { r.verdict("the hold ends", checker.Proved, "") }, "proved"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := newRun(t, twoRooms)
			c.make(r)
			if got := Tell(r.rep, Options{}).Verdict; got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

// Names of any length and with any character leave the layout whole and the terminal alone.
func TestHostileNames(t *testing.T) {
	r := failing(t)
	r.s.Name = "Evil\x1b[2J\u202eHouse"
	r.s.Modes[0].Name = strings.Repeat("very_long_mode_name_", 12)
	r.s.Circuits[0].Name = "hall\x07\u200b" + strings.Repeat("x", 200)
	r.s.Requirements[0].Name = "a\nb\r\x1b]0;title\x07 " + strings.Repeat("and so on ", 30)
	for _, width := range []int{0, 40, 10, 132} {
		o := Options{Width: width}
		checkText(t, string(r.text(o)), o.width())
	}
	if !strings.Contains(string(r.text(Options{})), `Evil\x1b[2J\u202eHouse`) {
		t.Error("the site's name is not shown escaped")
	}
}

// A long flash is shortened in the middle; its beginning and end stay.
func TestLongFlashIsShortened(t *testing.T) {
	text := strings.Replace(twoRooms, "flash all circuits 2 times", "flash all circuits 200 times", 1)
	r := newRun(t, text)
	r.story("the way out is at full on fire", checker.Fails, rehearse.Script{
		Start: clock(22, 0), End: 300 * second, Events: []rehearse.Event{r.level(second, "fire", true)}}, "hall_spots")
	j := &r.rep.Outcomes[0].Counterexample.Judgement
	j.At, j.Deadline = 200*second, 200*second
	d := Tell(r.rep, Options{})
	es := d.Requirements[0].Story.Entries
	if len(es) > 2+keepFirst+keepLast+1 {
		t.Errorf("the story has %d steps", len(es))
	}
	i := slices.IndexFunc(es, func(e Entry) bool { return e.Skipped > 0 })
	if i < 0 || es[len(es)-1].At < 199*second {
		t.Errorf("nothing is skipped, or the end is lost: %d, %v", i, es[len(es)-1])
	}
}

// The same report gives the same bytes.
func TestSameBytes(t *testing.T) {
	first := failing(t).text(Options{})
	for range 5 {
		if !bytes.Equal(first, failing(t).text(Options{})) {
			t.Fatal("two runs differ")
		}
	}
}

func TestColorOnlyWhenAsked(t *testing.T) {
	r := failing(t)
	colored := string(r.text(Options{Color: true}))
	if !strings.Contains(colored, "\x1b[1;31mfails\x1b[0m") {
		t.Error("no colour where it was asked for")
	}
	plain := strings.NewReplacer("\x1b[1;31m", "", "\x1b[1;33m", "", "\x1b[32m", "", "\x1b[0m", "").Replace(colored)
	if plain != string(r.text(Options{})) {
		t.Error("colour changes more than colour")
	}
}

func TestRehearsal(t *testing.T) {
	s, set := read(t, twoRooms+`
scenario "a fire at night" {
    start 22:00
    given room_pir
    at 22:01 triple tap key
    expect room_main off within 2 s
    at 22:02 fire raised
    expect hall_spots at full within 5 s
    at 22:03 mains lost
    expect room_bed at 30 %
}`)
	tl, xs, err := rehearse.Rehearse(s, &s.Scenarios[0])
	if err != nil {
		t.Fatal(err)
	}
	r := TellRehearsal(&s.Scenarios[0], tl, xs, set)
	if r.Unmet != 2 {
		t.Errorf("%d expectations are unmet, want 2", r.Unmet)
	}
	var b bytes.Buffer
	if err := r.Text(&b, Options{}); err != nil {
		t.Fatal(err)
	}
	golden(t, "rehearsal.txt", b.Bytes())
}

// TestWeek: days of the week, ramps, outputs and notices in a rehearsal.
func TestWeek(t *testing.T) {
	s, set := read(t, `site "Quay"
controller { reacts within 300 ms }
area hall
circuit spots in hall { dims }
presence pir in hall
contact window in hall
output siren
notice told "a window is open"
band working 08:00 to 18:00 on Mon to Fri
mode visit { while pir  spots: working ramp to 80 % over 2 min, otherwise ramp to 40 % over 10 s }
mode look { starts at 22:00 on Fri if window open  for 10 s  told on, siren on }
scenario "from Friday to Saturday" {
    start Fri 21:59
    given window open
    at 22:00:01 pir
    expect told on and siren on
    at 09:00 not pir
    expect siren on
}`)
	tl, xs, err := rehearse.Rehearse(s, &s.Scenarios[0])
	if err != nil {
		t.Fatal(err)
	}
	r := TellRehearsal(&s.Scenarios[0], tl, xs, set)
	if e := r.Story.Entries; e[0].Day != 0 || e[0].Weekday != "Fri" || e[len(e)-1].Day != 1 || e[len(e)-1].Weekday != "Sat" {
		t.Errorf("the days are %+v", e)
	}
	var b bytes.Buffer
	if err := r.Text(&b, Options{}); err != nil {
		t.Fatal(err)
	}
	golden(t, "week.txt", b.Bytes())
}

func TestStamps(t *testing.T) {
	for at, want := range map[rehearse.Nanos]string{
		0: "00:00", clock(22, 0): "22:00", clock(7, 30) + 5*second: "07:30:05", clock(7, 0) + 250*rehearse.Milli: "07:00:00.250",
		clock(7, 0) + 1: "07:00:00.000000001", clock(7, 0) + 5*second + 1000: "07:00:05.000001", rehearse.Day + clock(1, 0): "01:00",
	} {
		if got := stamp(at); got != want {
			t.Errorf("stamp(%d) = %s, want %s", at, got, want)
		}
	}
	for d, want := range map[rehearse.Nanos]string{0: "0 s", 90 * second: "1 min 30 s", clock(4, 0) + 2: "4 h 2 ns", -second: "-1 s"} {
		if got := span(d); got != want {
			t.Errorf("span(%d) = %s, want %s", d, got, want)
		}
	}
}
