package almanac

import (
	"archive/zip"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the list of zones anew")

// The list has just the zones of the database that Go builds in, and each can be loaded.
func TestZonesAreThoseOfTheDatabase(t *testing.T) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	archive, err := zip.OpenReader(filepath.Join(strings.TrimSpace(string(root)), "lib", "time", "zoneinfo.zip"))
	if err != nil {
		t.Skip("this Go comes without its copy of the database: ", err)
	}
	defer archive.Close()
	var want []string
	for _, f := range archive.File {
		if !strings.HasSuffix(f.Name, "/") {
			want = append(want, f.Name)
		}
	}
	slices.Sort(want)
	if *update {
		if err := os.WriteFile("zones.txt", []byte(strings.Join(want, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(want, Zones()); diff != "" {
		t.Errorf("zones.txt differs from Go's database (-database +list); -update writes it anew\n%s", diff)
	}
	for _, name := range Zones() {
		if zone, err := Load(name); err != nil || zone.String() != name {
			t.Errorf("%s: %v, %v", name, zone, err)
		}
	}
}

func TestUnknownZones(t *testing.T) {
	for name, want := range map[string]string{
		"Europe/Dubln":       `there is no time zone "Europe/Dubln"; did you mean "Europe/Dublin"?`,
		"europe/paris":       `there is no time zone "europe/paris"; did you mean "Europe/Paris"?`,
		"New York":           `there is no time zone "New York"; did you mean "America/New_York"?`,
		"right/Europe/Paris": `there is no time zone "right/Europe/Paris"; did you mean "Europe/Paris"?`,
		"Nowhere":            `there is no time zone "Nowhere"; expected a name of the IANA database, such as "Europe/Dublin"`,
		"":                   `there is no time zone ""; expected a name of the IANA database, such as "Europe/Dublin"`,
		"Local":              `there is no time zone "Local"; expected a name of the IANA database, such as "Europe/Dublin"`,
	} {
		_, err := Load(name)
		var unknown *UnknownZone
		if !errors.As(err, &unknown) || err.Error() != want {
			t.Errorf("%q: %v, want %s", name, err, want)
		}
	}
	_, err := Load("America/Indiana")
	if unknown := (*UnknownZone)(nil); !errors.As(err, &unknown) || len(unknown.Near) > 3 {
		t.Errorf("America/Indiana: %v", err)
	}
}

func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "abc", 3}, {"kitten", "sitting", 3}, {"dubln", "dublin", 1}, {"abc", "abc", 0}} {
		if got, back := edits(c.a, c.b), edits(c.b, c.a); got != c.want || back != c.want {
			t.Errorf("edits(%q, %q) = %d and %d, want %d", c.a, c.b, got, back, c.want)
		}
	}
}

func FuzzLoad(f *testing.F) {
	for _, s := range []string{"", "Europe/Dublin", "../etc/passwd", "Europe/\x00", "New York"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		zone, err := Load(name)
		if known := slices.Contains(Zones(), name); known != (err == nil) || known && zone.String() != name {
			t.Errorf("%q: %v, %v", name, zone, err)
		}
	})
}
