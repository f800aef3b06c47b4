// What comes out of going through a folder.

package confirm

// Standing is what the evidence says of a requirement.
type Standing string

// The standings.
const (
	Confirmed     Standing = "confirmed"
	Broken        Standing = "broken"        // counterexample replayed
	Impossible    Standing = "impossible"    // proved that it is not possible
	NotConfirmed  Standing = "not confirmed" // evidence that is wrong, or not enough
	Missing       Standing = "no certificate"
	Contradiction Standing = "contradiction"
)

// Verdict is what a folder says of a site as a whole: the worst of its requirements and files.
type Verdict string

// The verdicts, from best to worst.
const (
	AllConfirmed Verdict = "confirmed"
	Incomplete   Verdict = "incomplete" // something has no evidence, or not enough; or the check was stopped
	Fails        Verdict = "fails"      // something is broken, or evidence is wrong
)

// Requirement is one requirement with its standing. Texts are escaped.
type Requirement struct {
	Name     string   `json:"name"`
	Standing Standing `json:"standing"`
	Reason   string   `json:"reason,omitempty"`
	// How many certificates and runs of it were found right, and what the certificates hold.
	Certificates int `json:"certificates"`
	Runs         int `json:"runs,omitempty"`
	States       int `json:"states,omitempty"`
	Zones        int `json:"zones,omitempty"`
}

// Refused is a file that was not accepted. Texts are escaped.
type Refused struct {
	File   string `json:"file"`
	Reason string `json:"reason"`
}

// Outcome is what a folder says of a site.
type Outcome struct {
	Site         string        `json:"site"`
	Verdict      Verdict       `json:"verdict"`
	Requirements []Requirement `json:"requirements"`
	Refused      []Refused     `json:"refused"`
	Accepted     int           `json:"accepted"`         // files
	Unread       int           `json:"unread,omitempty"` // files that a stop left unchecked
	Caution      string        `json:"caution"`
}

// count gives how many requirements stand so.
func (o *Outcome) count(s Standing) int {
	n := 0
	for i := range o.Requirements {
		if o.Requirements[i].Standing == s {
			n++
		}
	}
	return n
}

// verdict is the worst of all.
func (o *Outcome) verdict() Verdict {
	switch {
	case len(o.Refused) > 0, o.count(Broken)+o.count(Impossible)+o.count(Contradiction) > 0:
		return Fails
	case o.Unread > 0, o.count(Confirmed) < len(o.Requirements):
		return Incomplete
	}
	return AllConfirmed
}

// caution is said once with every outcome.
const caution = "Confirmed is that the requirement follows from the site file, for every order and timing of events. Nothing is said of " +
	"wiring, lamps, sensors or commissioning, nor of whether the file describes the building. Test on site. Local codes and " +
	"licensed practice come first."
