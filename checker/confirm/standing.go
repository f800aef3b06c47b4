// How each requirement stands, from what was found in its files.

package confirm

import (
	"fmt"

	"lampwarden/checker/certify"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// tell puts the outcome together.
func tell(s *site.Site, files []*evidence) *Outcome {
	out := &Outcome{Site: source.Escape(s.Name), Caution: caution, Refused: []Refused{}}
	var results []*certify.Result
	for _, f := range files {
		switch {
		case f.stopped:
			out.Unread++
		case f.refused != "":
			out.Refused = append(out.Refused, Refused{shown(f.name), shown(f.refused)})
		default:
			out.Accepted++
		}
		if f.result != nil {
			results = append(results, f.result)
		}
	}
	covered := certify.Coverage(s, results)
	for i := range s.Requirements {
		out.Requirements = append(out.Requirements, stand(s, i, covered[i], files))
	}
	out.Verdict = out.verdict()
	return out
}

// stand tells how one requirement stands.
func stand(s *site.Site, i int, covered certify.Status, files []*evidence) Requirement {
	r := &s.Requirements[i]
	out := Requirement{Name: source.Escape(r.Name)}
	shows, why := false, "" // a run shows it; why a file is of no use
	for _, f := range files {
		switch {
		case f.result != nil && f.result.Requirement == i:
			out.Certificates++
			out.States += f.result.States
			out.Zones += f.result.Zones
		case f.saved != nil && f.saved.Requirement == i:
			if f.judged.Broken || f.judged.Witness {
				shows = true
				out.Runs++
			} else if f.judged.Branching {
				why = "no single run can show that there is no way back"
			} else {
				why = fmt.Sprintf("the run in %s shows nothing", shown(f.name))
			}
		case f.refused != "" && f.claims == i && why == "":
			why = fmt.Sprintf("%s is not accepted", shown(f.name))
		}
	}
	possible := r.Form == site.Possible
	switch {
	case covered.Confirmed && shows:
		out.Standing, out.Reason = Contradiction, "a certificate and a run say the opposite: please report this"
	case covered.Confirmed && possible:
		out.Standing = Impossible
	case covered.Confirmed, shows && possible:
		out.Standing = Confirmed
	case shows:
		out.Standing, out.Reason = Broken, "counterexample replayed"
	case why != "":
		out.Standing, out.Reason = NotConfirmed, why
	case out.Certificates > 0:
		out.Standing, out.Reason = NotConfirmed, shown(covered.Reason)
	case r.Form == site.CanReturn:
		out.Standing, out.Reason = Missing, `a requirement "can always return" has none`
	default:
		out.Standing, out.Reason = Missing, shown(covered.Reason)
	}
	return out
}
