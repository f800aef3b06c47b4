// Package confirm goes through a folder of evidence for a site's verdicts and tells which of them it confirms.
//
// A proof is evidence as a certificate, "NAME.cert", which checker/certify checks. That a requirement can be broken, or
// that something is possible, is evidence as a run, "NAME.run", which checker/rehearse plays and judges. Both are written from
// lang/SEMANTICS.md alone, and nothing here comes from the engine that found the evidence: whoever wrote a file, and however, what
// is confirmed holds. So a file may come from anyone. It is read within bounds of size and time, and nothing in it reaches
// a reader unescaped.
//
// A requirement stands as one of (Standing): confirmed, all parts of its proof on all dates are there and right, or a run shows it
// possible; broken, a run shows that; impossible, a proof shows that; not confirmed, what is there is wrong or not enough;
// missing, nothing is there. A requirement that is both proved and broken is a contradiction, which only a bug of ours explains.
package confirm
