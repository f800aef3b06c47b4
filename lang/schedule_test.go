package lang_test

// Circuit schedules: what comes out of good ones, and that each mistake is shown in its cell.

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"lampwarden/lang"
	"lampwarden/lang/site"
	"lampwarden/lang/syntax"

	"github.com/google/go-cmp/cmp"
)

const office = `
supply mains
battery ups { charged by mains }
area hall, stairs, r_101, lobby
`

// loadTable reads a site with one schedule, s.csv.
func loadTable(decl, table string) *lang.Project {
	return lang.LoadTextIn(fstest.MapFS{"s.csv": {Data: []byte(table)}}, "site.lamp", office+decl)
}

// circuitsText shows the circuits of a site, a line each.
func circuitsText(s *site.Site) string {
	var b strings.Builder
	for i := range s.Circuits {
		c := &s.Circuits[i]
		fmt.Fprintf(&b, "%s in %s", c.Name, s.Areas[c.Area].Name)
		if c.Switched {
			b.WriteString(" switches")
		} else {
			fmt.Fprintf(&b, " dims %s to %s", c.Min, c.Max)
		}
		if c.Power > 0 {
			fmt.Fprintf(&b, " power %d mW", c.Power)
		}
		if c.FedBy != site.None {
			b.WriteString(" fed by " + s.Supplies[c.FedBy].Name)
		}
		if c.Fade > 0 {
			b.WriteString(" fade " + c.Fade.String())
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func TestSchedules(t *testing.T) {
	const all = `circuits from "s.csv" { name "Ref"  area "Room"  power "Load (W)"  dims "Dimmable" = "yes"  fed by "Board": "DB-U" = ups, "DB-A" = mains  fade "Fade" in s }`
	const two = "a in hall dims 0.01 % to 100 %\nb in stairs dims 0.01 % to 100 %\n"
	for name, c := range map[string]struct{ decl, table, want string }{
		"every column": {all, "Ref,Room,Load (W),Dimmable,Board,Fade\nspots,hall,42,yes,DB-U,0.7\nwall, stairs ,0.5 kW,No,DB-A,\nbare,lobby,,YES,-,0\n",
			"spots in hall dims 0.01 % to 100 % power 42000 mW fed by ups fade 700 ms\n" +
				"wall in stairs switches power 500000 mW fed by mains\nbare in lobby dims 0.01 % to 100 %\n"},
		"a mark, other line ends, other order, more columns, empty rows": {all,
			"\ufeffNote,Fade,Board,Dimmable,Load (W),Room,Ref\r\n\"two\r\nlines, \"\"quoted\"\"\",700 ms,DB-U,yes,42 W,hall,spots\r\n,,,,,,\r\n\r\n-,-,DB-A,no,12.5,\"stairs\",\"wall\"\r\n",
			"spots in hall dims 0.01 % to 100 % power 42000 mW fed by ups fade 700 ms\nwall in stairs switches power 12500 mW fed by mains\n"},
		"constants for what no column tells": {`circuits from "s.csv" in hall { name "Ref"  dims 2 % to 90 %  switches "Kind" = "relay"  power 9 W  fed by ups  fade 2 s }`,
			"Ref,Kind\na,relay\nb,DALI\nc,no", // `DALI` is neither a relay nor a no
			""},
		"kinds as texts": {`circuits from "s.csv" in hall { name "Ref"  dims 2 % to 90 %  dims "Kind" = "DALI", "0-10 V"  switches "Kind" = "relay"  power 9 W  fed by ups  fade 2 s }`,
			"Ref,Kind\na,relay\nb,dali\nc,0-10 V",
			"a in hall switches power 9000 mW fed by ups\nb in hall dims 2 % to 90 % power 9000 mW fed by ups fade 2 s\nc in hall dims 2 % to 90 % power 9000 mW fed by ups fade 2 s\n"},
		"a plain yes or no": {`circuits from "s.csv" in hall { name "Ref"  switches "S" }`, "Ref,S\na,x\nb,\nc,TRUE\nd,n\n",
			"a in hall switches\nb in hall dims 0.01 % to 100 %\nc in hall switches\nd in hall dims 0.01 % to 100 %\n"},
		"names by rule": {`circuits from "s.csv" { name "Ref", prefix "c_", other characters "_"  area "Room", prefix "r_", other characters "": "Lift lobby" = lobby, "Main hall" = hall }`,
			"Ref,Room\n1.01/A,1.01\n \"area,Lift lobby\n--L 7--,Main hall\n",
			""}, // a stray quote, see below
		"names by the rules": {`circuits from "s.csv" { name "Ref", prefix "c_", other characters "_"  area "Room", prefix "r_", other characters "": "Lift lobby" = lobby, "Main hall" = hall }`,
			"Ref,Room\n1.01/A,1.01\narea,Lift lobby\n--L 7--,Main hall\n",
			"c_1_01_A in r_101 dims 0.01 % to 100 %\nc_area in lobby dims 0.01 % to 100 %\nc_L_7 in hall dims 0.01 % to 100 %\n"},
		"supplies by name":    {`circuits from "s.csv" in hall { name "N"  fed by "F" }`, "N,F\na,ups\nb,mains", "a in hall dims 0.01 % to 100 % fed by ups\nb in hall dims 0.01 % to 100 % fed by mains\n"},
		"units by the header": {`circuits from "s.csv" in hall { name "N"  power "P [kW]"  fade "T (ms)" }`, "N,P [kW],T (ms)\na,0.0015,20\nb,3 W,1 min", "a in hall dims 0.01 % to 100 % power 1500 mW fade 20 ms\nb in hall dims 0.01 % to 100 % power 3000 mW fade 1 min\n"},
		"twice the same file": {"circuits from \"s.csv\" in hall { name \"A\" }\ncircuits from \"s.csv\" in stairs { name \"B\" }", "A,B\na,b\n", two},
	} {
		p := loadTable(c.decl, c.table)
		switch {
		case c.want == "" && p.Site != nil:
			t.Errorf("%s: accepted", name)
		case c.want != "" && p.Site == nil:
			t.Errorf("%s: refused: %v", name, p.Diagnostics)
		case c.want != "":
			if d := cmp.Diff(c.want, circuitsText(p.Site)); d != "" {
				t.Errorf("%s (-want +got):\n%s", name, d)
			}
		}
	}
}

// TestScheduleMistakes: what is wrong, where (in the table, or in the site file after "decl"), and what is said of it.
func TestScheduleMistakes(t *testing.T) {
	const decl = `circuits from "s.csv" { name "Ref"  area "Room"  power "Load (W)"  dims "Dim" = "yes"  fed by "Board"  fade "Fade" }` + "\n"
	const head = "Ref,Room,Load (W),Dim,Board,Fade\n"
	good := head + "a,hall,1,yes,ups,1 s\n"
	for name, c := range map[string]struct{ decl, table, at, code, said string }{
		"unknown area":       {decl, head + "a,hal,1,yes,ups,\n", "s.csv:2:3", "unknown-name", "no area named `hal`.*did you mean `hall`"},
		"wrong kind of area": {decl, head + "a,ups,1,yes,ups,\n", "s.csv:2:3", "wrong-kind", "`ups` is a battery; an area is wanted"},
		"unknown supply":     {decl, head + "a,hall,1,yes,usp,\n", "s.csv:2:14", "unknown-name", "did you mean `ups`"},
		"no name":            {decl, head + ",hall,1,yes,ups,\n", "s.csv:2:1", "bad-cell", "gives no name"},
		"no legal name":      {decl, head + "L 1,hall,1,yes,ups,\n", "s.csv:2:1", "bad-cell", "`L 1` is not a name of the language.*names come from this column.*other characters \"_\""},
		"a digit first":      {decl, head + "1a,hall,1,yes,ups,\n", "s.csv:2:1", "bad-cell", "`1a` is not a name.*prefix \"c_\".*starts with a letter"},
		"a reserved word":    {decl, head + "lamps,hall,1,yes,ups,\n", "s.csv:2:1", "bad-cell", "`lamps` is a word of the language"},
		"twice":              {decl, good + "b,hall,1,yes,ups,\n a ,hall,1,yes,ups,\n", "s.csv:4:1", "duplicate-name", "`a` is already taken.*a circuit, declared here"},
		"taken by the site":  {"alarm a\n" + decl, good, "s.csv:2:1", "duplicate-name", "`a` is already taken.*an alarm, declared here"},
		"a clash by rule": {strings.Replace(decl, `"Ref"`, `"Ref", other characters "_"`, 1), head + "L 1,hall,1,yes,ups,\nL-1,hall,1,yes,ups,\n", "s.csv:3:1",
			"duplicate-name", "`L_1` is already taken.*the cell says `L-1`"},
		"no number":          {decl, head + "a,hall,forty,yes,ups,\n", "s.csv:2:8", "bad-cell", "`forty` is not a power"},
		"a decimal comma":    {decl, head + "a,hall,\"1,5\",yes,ups,\n", "s.csv:2:8", "bad-cell", "`1,5` is not a power.*decimals stand behind a point"},
		"a sign":             {decl, head + "a,hall,-5,yes,ups,\n", "s.csv:2:8", "bad-cell", "`-5` is not a power"},
		"too much":           {decl, head + "a,hall,99999999999999,yes,ups,\n", "s.csv:2:8", "bad-cell", "more than can be meant"},
		"too fine":           {decl, head + "a,hall,0.00001,yes,ups,\n", "s.csv:2:8", "bad-cell", "finer than can be told apart"},
		"an unknown unit":    {decl, head + "a,hall,5 Watt,yes,ups,\n", "s.csv:2:8", "unknown-unit", "`Watt` is not a unit of power"},
		"a unit of time":     {decl, head + "a,hall,5 s,yes,ups,\n", "s.csv:2:8", "unknown-unit", "`s` is not a unit of power"},
		"no unit":            {decl, head + "a,hall,5,yes,ups,3\n", "s.csv:2:18", "missing-unit", "`3` has no unit.*nor has its column.*write `\"Fade\" in s`"},
		"neither yes nor no": {decl, head + "a,hall,5,yse,ups,\n", "s.csv:2:10", "bad-cell", "`yse` does not tell whether the circuit dims.*this column tells.*switches \"Dim\" = \"yse\""},
		"another yes":        {decl, head + "a,hall,5,y,ups,\n", "s.csv:2:10", "bad-cell", "`y` does not tell"},
		"neither dims nor switches": {`circuits from "s.csv" in hall { name "N"  dims "K" = "d"  switches "K" = "s" }`, "N,K\na,d\nb,x\n", "s.csv:3:3", "bad-cell",
			"whether the circuit dims or switches"},
		"both dims and switches": {`circuits from "s.csv" in hall { name "N"  dims "K" = "d"  switches "L" = "s" }`, "N,K,L\na,d,s\n", "s.csv:2:3", "bad-cell",
			"whether the circuit dims or switches"},
		"a switched circuit that fades": {decl, head + "a,hall,5,no,ups,1 s\n", "s.csv:2:17", "clause-conflict", "a switched circuit has no fade"},
		"a short row":                   {decl, good + "b,hall\n", "s.csv:3:3", "bad-schedule", "this row has 2 cells, the header has 6.*the header"},
		"a long row":                    {decl, good + "b,hall,1,yes,ups,1 s,more,and more\n", "s.csv:3:22", "bad-schedule", "this row has 8 cells, the header has 6"},
		"a bare quote":                  {decl, good + "b\"x,hall,1,yes,ups,1 s\n", "s.csv:3:2", "bad-schedule", "quotes of this cell do not fit.*written twice"},
		"text after a quote":            {decl, good + "\"b\"x,hall,1,yes,ups,1 s\n", "s.csv:3:3", "bad-schedule", "quotes of this cell do not fit.*ends with one"},
		"an open quote":                 {decl, good + "\"b,hall\nand so on\n", "s.csv:5:1", "bad-schedule", "quotes of this cell do not fit.*the row begins here"},
		"after a long cell":             {decl, good + "b,hall,1,yes,ups,\"1\n\ns\"\nc,hal,1,yes,ups,\n", "s.csv:6:3", "unknown-name", "no area named `hal`"},
		"empty":                         {decl, "", "s.csv:1:1", "bad-schedule", "the schedule is empty"},
		"blank":                         {decl, "\n\r\n", "s.csv:1:1", "bad-schedule", "the schedule is empty"},
		"no rows":                       {decl, head, "s.csv:1:1", "bad-schedule", "a header but no rows"},
		"no such column":                {decl, strings.Replace(good, "Board", "Bord", 1), "decl", "unknown-column", "no column \"Board\".*its header.*did you mean `\"Bord\"`"},
		"semicolons":                    {`circuits from "s.csv" in hall { name "Ref" }`, "Ref;Room\na;hall\n", "decl", "unknown-column", "parted by commas"},
		"twice a column":                {decl, "Room," + head + "x,a,hall,1,yes,ups,1 s\n", "s.csv:1:10", "bad-schedule", "two columns are named \"Room\".*the other one.*asked for here"},
		"not UTF-8":                     {decl, good + "b\xe4,hall,1,yes,ups,\n", "s.csv:3:2", "not-text", "not text in UTF-8"},
		"a NUL":                         {decl, good + "b\x00,hall,1,yes,ups,\n", "s.csv:3:2", "not-text", "not text in UTF-8"},
		"no column of names":            {`circuits from "s.csv" in hall { power "P" }`, "P\n1 W\n", "decl", "no-title", "nothing tells the names.*write `name`"},
		"no areas":                      {`circuits from "s.csv" { name "N" }`, "N\na\n", "decl", "no-title", "nothing tells the areas.*write `area`"},
		"an area twice":                 {`circuits from "s.csv" in hall { name "N"  area "A" }`, "N,A\na,hall\n", "decl", "duplicate-clause", "the area is given twice"},
		"a property twice":              {`circuits from "s.csv" in hall { name "N"  power 5 W  power "P" in W }`, "N,P\na,5\n", "decl", "duplicate-clause", "the power is given twice"},
		"two columns of names":          {`circuits from "s.csv" in hall { name "N"  name "M" }`, "N,M\na,b\n", "decl", "duplicate-clause", "the column of names is given twice"},
		"all are switched":              {`circuits from "s.csv" in hall { name "N"  switches  dims "D" }`, "N,D\na,yes\n", "decl", "clause-conflict", "cannot tell what dims.*all circuits of the schedule are switched"},
		"a wrong prefix":                {`circuits from "s.csv" in hall { name "N", prefix "1-" }`, "N\na\n", "decl", "bad-cell", "a prefix has letters"},
		"a wrong stand-in":              {`circuits from "s.csv" in hall { name "N", other characters "-" }`, "N\na\n", "decl", "bad-cell", "letters, digits and `_` only"},
		"meanings of names":             {`circuits from "s.csv" in hall { name "N": "a" = b }`, "N\na\n", "decl", "wrong-word", "what the cell says"},
		"a meaning that is not":         {`circuits from "s.csv" in hall { name "N"  fed by "F": "x" = usp }`, "N,F\na,x\n", "decl", "unknown-name", "did you mean `ups`"},
		"a wrong unit":                  {`circuits from "s.csv" in hall { name "N"  power "P" in w }`, "N,P\na,5\n", "decl", "unknown-unit", "`w` is not a unit of power.*did you mean `W`"},
		"a wrong unit above":            {`circuits from "s.csv" in hall { name "N"  power "P (A)" }`, "N,P (A)\na,5\n", "decl", "unknown-unit", "`A` is not a unit of power"},
		"another file":                  {`circuits from "t.csv" in hall { name "N" }`, "", "decl", "file-not-read", "\"t.csv\" cannot be read: there is no such file"},
		"up":                            {`circuits from "../s.csv" in hall { name "N" }`, "N\na\n", "decl", "bad-path", "does not stay in the folder"},
		"in and up":                     {`circuits from "x/../s.csv" in hall { name "N" }`, "N\na\n", "decl", "bad-path", "does not stay"},
		"from the root":                 {`circuits from "/s.csv" in hall { name "N" }`, "N\na\n", "decl", "bad-path", "does not stay"},
		"a drive":                       {`circuits from "c:s.csv" in hall { name "N" }`, "N\na\n", "decl", "bad-path", "does not stay"},
		"backslashes":                   {`circuits from "x\\s.csv" in hall { name "N" }`, "N\na\n", "decl", "bad-path", "does not stay"},
		"the folder itself":             {`circuits from "." in hall { name "N" }`, "N\na\n", "decl", "bad-path", "does not stay"},
		"too long":                      {decl, head + strings.Repeat("x", syntax.MaxSize), "decl", "file-not-read", "longer than the 4194304 bytes"},
	} {
		p := loadTable(c.decl, c.table)
		if p.Site != nil || len(p.Diagnostics) != 1 {
			t.Errorf("%s: %d reports: %v", name, len(p.Diagnostics), p.Diagnostics)
			continue
		}
		d := p.Diagnostics[0]
		pos, _ := p.Sources.Position(d.Span)
		at := pos.String()
		if strings.HasPrefix(at, "site.lamp:") && c.at == "decl" {
			at = "decl"
		}
		if at != c.at || string(d.Code) != c.code || !regexp.MustCompile("(?s)"+c.said).MatchString(whole(d)) {
			t.Errorf("%s: at %s %s %q, want at %s %s %q", name, at, d.Code, whole(d), c.at, c.code, c.said)
		}
	}
}

// TestScheduleMissesNothingElse: circuits of a schedule that could not be read are not reported as unknown.
func TestScheduleMissesNothingElse(t *testing.T) {
	for name, table := range map[string]string{"bad cell": "Ref,Room\na b,hall\nc,hall\n", "short row": "Ref,Room\na\nc,hall\n", "no column": "Reff,Room\na,hall\n"} {
		p := loadTable(`circuits from "s.csv" { name "Ref"  area "Room" }
alarm fire
mode m { while fire  a, c full }
require "r" { never a lit and any circuit in hall except b off }`, table)
		if len(p.Diagnostics) != 1 {
			t.Errorf("%s: %v", name, p.Diagnostics)
		}
	}
}

// TestScheduleRenders: a mistake in a cell is shown with the line of the table.
func TestScheduleRenders(t *testing.T) {
	p := loadTable(`circuits from "s.csv" { name "Ref"  area "Room" }`, "Ref,Room\nspots,\"hal\"\n")
	var b strings.Builder
	if err := p.WriteDiagnostics(&b, false); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"s.csv:2:7: error[unknown-name]: there is no area named `hal`", "2 | spots,\"hal\"", "|       ^^^^^"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

// TestSchedulesOnDisk: paths are taken from the folder of the site file, and never lead out of it.
func TestSchedulesOnDisk(t *testing.T) {
	dir := write(t, map[string]string{
		"a.lamp": "area hall\ncircuits from \"tables/s.csv\" in hall { name \"Ref\" }", "outside.csv": "Ref\nb\n",
	})
	site := filepath.Join(dir, "house")
	for _, d := range []string{site, filepath.Join(site, "tables")} {
		if err := os.Mkdir(d, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(site, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put("a.lamp", "area hall\ncircuits from \"tables/s.csv\" in hall { name \"Ref\" }")
	put("b.lamp", "circuits from \"tables/t.csv\" in hall { name \"Ref\" }")
	put("tables/s.csv", "Ref\nspots\n")
	put("tables/t.csv", "Ref\nwall\n")
	p, err := lang.Load([]string{site})
	if err != nil || p.Site == nil {
		t.Fatal(err, p.Diagnostics)
	}
	if got := circuitsText(p.Site); !strings.HasPrefix(got, "spots in hall") || !strings.Contains(got, "\nwall in hall") {
		t.Error(got)
	}
	pos, _ := p.Sources.Position(p.Site.Circuits[1].Span)
	if filepath.ToSlash(pos.File) != filepath.ToSlash(filepath.Join(site, "tables", "t.csv")) || pos.Line != 2 {
		t.Errorf("the circuit stands at %v", pos)
	}
	for name, want := range map[string]string{"link": "leads out of the folder", "folder": "it is no file"} {
		if name == "link" {
			if err := os.Symlink(filepath.Join(dir, "outside.csv"), filepath.Join(site, "link")); err != nil {
				t.Skip(err)
			}
		} else if err := os.Mkdir(filepath.Join(site, name), 0o700); err != nil {
			t.Fatal(err)
		}
		put("a.lamp", "area hall\ncircuits from \""+name+"\" in hall { name \"Ref\" }")
		p, err := lang.Load([]string{site})
		if err != nil || len(p.Diagnostics) != 1 || !strings.Contains(p.Diagnostics[0].Message, want) {
			t.Errorf("%s: %v %v", name, err, p.Diagnostics)
		}
	}
}

// FuzzSchedule holds that any table gives a site or reports, and that the reports stand in the texts.
func FuzzSchedule(f *testing.F) {
	for _, s := range []string{"Ref,Room,Load (W),Dim\na,hall,5,yes\n", "\ufeffRef,Room,Load (W),Dim\r\n\"a\",\"ha\"\"ll\",5 kW,\r\n", "Ref\"", "\"\n\n", "Ref,Room,Load (W),Dim\n,,,\na b,x,1e9,-"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, table string) {
		p := loadTable(`circuits from "s.csv" { name "Ref", other characters "_"  area "Room"  power "Load (W)"  dims "Dim" = "yes" }`, table)
		if (p.Site == nil) != p.Diagnostics.HasErrors() {
			t.Fatalf("site %v with %v", p.Site != nil, p.Diagnostics)
		}
		for _, d := range p.Diagnostics {
			file := p.Sources.File(d.Span.File)
			if file == nil || d.Span.Start < 0 || d.Span.Start > d.Span.End || int(d.Span.End) > len(file.Text) {
				t.Errorf("%v is no place", d.Span)
			}
		}
		var b strings.Builder
		if err := p.WriteDiagnostics(&b, false); err != nil || strings.Contains(b.String(), "\x00") {
			t.Error(err, b.String())
		}
	})
}
