// Package certify confirms the certificate of a proof, with nothing of the engine that made it.
//
// A certificate of unreachability (Wimmer and von Mutius, TACAS 2020) is a set of pairs of a discrete state and a zone over
// clocks. The requirement's part is proved if
//
//   - every start-up is in the set,
//   - the set is closed: whatever can happen in a state of the set leads into the set,
//   - no such step breaks the requirement,
//   - and time is never stopped: where a timer comes due there is a reaction.
//
// No order of search, no extrapolation and no covering order play a part, so that it does not matter how the set was found. A
// certificate is also honest about what it leaves out: its head says which inputs, modes, circuits, times and clocks it keeps
// (its *choices*). This package checks that each choice only adds behaviour, from the site and lang/SEMANTICS.md alone; the
// engine's reasons are of no interest to it. Then it checks the set with its own reactions and its own zones,
// written to be read, not to be fast. It imports lang/site and nothing else of ours.
//
// # The file
//
// A certificate is text, one record to a line, fields separated by one blank, in this order. All ids are indices into the
// tables of lang/site. Lists are ascending. A line whose list would be empty is left out unless said otherwise.
//
//	lampwarden-certificate 1
//	version <text>               of the program that wrote it
//	site <fingerprint>           site.Fingerprint of the whole site (before OnDate)
//	requirement <index> <fingerprint>
//	part <k> <n>                 part k (from 0) of n, see "Parts"
//	date <index>                 only for a site with Dates: the date on which the set was found
//	unit <ms>                    all numbers of zones are multiples of it
//	input <id>...                level inputs that are kept
//	event <input>:<gesture>...   events that are kept
//	band <id>...                 bands that are kept
//	mode <id>...                 modes that are kept
//	sequence <mode> <state> <first>...   see "Sequences"; only for states with stages
//	lamp <circuit> <cut>...      a circuit whose level is kept, with the first level of each region, the first being 0
//	request <circuit>...         circuits whose request is kept; all lamps and seen circuits are among them
//	free <circuit> <mode>...     of a request circuit: modes that are not looked at for it, see "Free modes"
//	seen <circuit>...            circuits whose light the sensors see is kept
//	cycle day|week               what the clock of the day goes round in, if there are segments
//	segment <ms>...              the start of each segment, a time of the day (or week)
//	period <n>                   segments n apart are not told apart (n = their number: all are)
//	jump <k>...                  indices of Site.Jumps that are kept
//	horizon <ms>
//	clock <kind> [<id>] exact|cooling|relaxed   each clock of the system, in the order in which zones count them
//	state <token>...             a discrete state; followed by
//	zone <bound>...              one or more zones of it
//	...
//	end <states> <zones> <sha256 of every byte before this line, in hexadecimal>
//
// Clock kinds, in this order: "day"; for each kept mode in Site.StepOrder "mode <id>" (if it has a delay, pulse, For or After)
// and then "phase <id>" (if one of its sequences has two phases or more); "lamp <circuit>" (if a movement may take time); "seen <circuit>"; "observer 0",
// "observer 1"; "assume <index in Site.Assumptions>" (Spacing, Dwell, Charge).
//
// A zone is a difference-bound matrix over the clocks that run in its state, in the order of the clock lines, clock 0 being the
// constant zero: N*N bounds row by row, the one in row i, column j bounding clock i minus clock j, in units. "5" means at most 5, "<5" less
// than 5, "*" no bound. Its valuations are those that the clocks may have at any moment after the last step, some time having passed since, up
// to and including the next instant at which something exact is due.
//
// # States
//
// A state's tokens, in this order, what has its usual value being left out:
//
//	i<id>             a level input that is true
//	g<index>          the present segment (always there if there are segments)
//	m<id>=<place>[.<phase>[.<after>]]   a mode's place, its phase (index of a group, see "Sequences") and how many of the state's distinct
//	                  After times, ascending, have passed since it was entered; trailing zeros are left out, and so is a token that would be m<id>=0. Places of a While
//	                  mode: 0 off, 1 on, 2 waiting, 3 holding, 4 pulsing, 5 spent; of a Latch 0 inactive, 1 active; of a States mode the state.
//	r<id>,<id>...     recency, latest first, of the kept modes that share a Latest rule with another kept one on a request circuit; ones that are not active (States
//	                  modes: never entered anything) are not in it. Equal recencies: the one written last stands first.
//	c<circuit>=<region>                 a lamp at rest (left out if in region 0)
//	c<circuit>=<region>><aim>[@<pace>]  on its way to the level aim; pace: index into its times, see "Lamps" (0 left out)
//	c<circuit>=<region>?<mask>          its request is not known: bit r of mask tells that it may be in region r
//	p<circuit>=<level>                  the level chosen at an ambiguous request
//	s<circuit>=<target>/<seen>          what the sensors see (left out if both are 0)
//	a<index>          the clock of the assumption runs
//	f<index>          of a Charge: the battery was full as its charger was lost, or is full
//	down              the controller does not run
//	leapt             the clock has jumped
//	k<index>          the cooling timer (index of its clock line) can not be due yet
//	o<place>[.<count>[.<previous>]]     the observer's state, see "Observers"; left out if all are 0
//
// # Choices
//
// *Sequences.* A state's stages are played as real phases, numbered from 0: a stage without flash is one, of length For (0: no end); an
// endless flash is two, on and off, the second followed by the first again; a flash in a stage with a length gives on and off in turn, the last
// one cut so that they add up to For. Nothing follows a phase without end; otherwise a last real phase "over", without end and outside
// all stages. A group is a run of neighbours with one meaning: its length is their sum (no end if one of them has none). "sequence m s 0 2 3" says that groups begin
// at the real phases 0, 2 and 3. The two phases of an endless flash may be one group without end. Two real phases have one meaning if a request circuit could not tell them apart
// (same stage and same part of a flash that reaches a request circuit, or no setting on any request circuit in either), and, where the stage
// itself matters (a condition reads it, the mode's recency is kept, or a controller that can be down keeps its modes), the same stage.
//
// *Lamps.* A level is known as the region that it is in. Every comparison that is read has one truth in each region. The times that a movement can take
// are: 0, that of the circuit's own fade; then, in the order of Modes, States, Stages, Settings, Cases of the site, each other Over that a setting on the circuit has.
// A lamp in the region of its aim counts as at rest there, where a movement that starts anew can do all that one with an older due time can.
//
// *Free modes.* A mode that is free for a circuit may ask it for any of the levels of its own settings on that circuit (and off, if one of
// them flashes), or for nothing, at any time; so long as no kept mode that asks outranks it. The lamp's request is then unknown: in one
// of the regions of those levels, of the levels of the kept modes that ask and that none that asks outranks, or in that of 0 if none of them asks (of a colour: anywhere).
// So is its movement: at any reaction it may arrive. Nobody need see the lamps move one by one: one free mode may move several at
// once. When the request is known again, the lamp may be on its way to it already, by any of its times; the slowest can do what the others can.
// If just one region is possible and the circuit has one time, without fade, the request counts as known (the first level of that region).
//
// *Inputs.* A level input that is left out stays at rest. It may be left out if it is a fault that does not strike, or if nothing that is read names it,
// or if it is spoken of in no assumption and wherever it is named it stands side by side with one and the same kept input (of no assumption, too, and named
// nowhere else), in one disjunction, or, both negated, in one conjunction: then that one alone can do what both can. (Not of holidays; and of a
// Settles the kept one must be no cause, or both.)
//
// *Clocks.* A relaxed timer may be due at any moment while it runs, or never; a relaxed assumption forbids nothing (its clock never runs). A cooling timer can not be due
// before min(its duration, horizon) after it started (a token k says that it is not sure that this has passed; its clock then runs, compared from below
// only); after that it may be due at any moment, or never. A cooling assumption holds for min(D, horizon). At start-up the time of day is anywhere
// in its segment, so that a cooling day clock has no k then. An assumption's clock, and that of a cooling timer, ends as soon as the zone of a state
// has no valuation in which it is less than what it is compared with: its token and its clock are then left out (for a Charge that is
// recharging and exact, f is set; a cooling one does not tell when a battery is full again: it is taken never to be, so that it may be flat at once).
//
// *Changes of the clock* that are left out must pass over no time at which something happens, and only make a segment longer or shorter. That
// matters only where the day clock is exact, or where it is cooling and a segment is not longer than the horizon by as much.
//
// *Dates.* A set found on one date counts for another one if the same things happen at the ends of the same number of segments in the same
// order, and either all segments have the same lengths or the day clock is relaxed.
//
// # Steps
//
// From a pair of the set, at any valuation of its zone: the exact timers whose clock has reached its duration are due; any set of loose (relaxed or cooled
// down) timers that run may be due as well; at most one event happens, as the assumptions allow, with or without anything due; a day clock that is due may
// make a kept jump, once. Due timers and the event make one reaction (SEMANTICS.md, section 2). With neither, one lamp may move
// to another region on its way, or several of those whose requests are not known may at once. After each step some time passes, until at most the next exact due time.
//
// # Parts
//
// Never P, Always not P: the parts of which P is the disjunction: negations moved to the atoms (a negated "at most N" is "at least N+1" and so
// on, its kids untouched; "at least N" with N <= 0 negated is false), "and" distributed over "or", the first kid varying slowest; an "and" that would give more than 2000
// parts is one part. Whenever A then B within D until C, without for: the parts of which not B is the disjunction in the same way, each with the whole A
// and C. All other forms: one part.
//
// # Observers
//
// Timers count from 0. An observer that is told of a moment sees at a reaction first the instant (if it reads events and one happens), then after.
//
//	Never, Always, Possible      place 0. Broken: its part is true at a moment.
//	Whenever                     0 nothing open; 1 the oldest rise of A that B has not answered is timer 0 ago. previous: A at the last moment.
//	Whenever until, without for  0 nothing open; 1 as above, until D has passed; 2 it has: B must stay until C. previous: A.
//	Whenever for                 one rise is followed, chosen by guess: 0 none; 1 B awaited, timer 0 since the rise; 2 (not used); 3 B true since timer 1 = 0,
//	                             timer 0 since the rise; 4 as 3, D has passed, timer 1 alone. previous: A.
//	LastsAtMost                  0 P false; 1 P true since timer 0 = 0.
//	LastsAtLeast                 0 P false; 1 as above; 2 P has been true for D.
//	AtMostTimes                  a first rise is chosen by guess: 0 none; 1 timer 0 since it, count rises so far. previous: P.
//	OnlyAfter                    0 Q not yet (since R); 1 Q has been true.
//	Settles                      0 the last cause is timer 0 ago, less than D; 1 D or more. previous: P at the last moment.
//
//	Energy, a claim              0 During false; 1 true since timer 0 = 0; 2 true for the time after, or longer.
//
// An energy requirement has no parts but claims: after its line "part <k> 0" comes a line "claim <circuit> <level> <after ms>", which says that from that time
// on for which During has been true (at no time at all, if it has no During) the circuit does not have that level or a higher one. What the claims, with the
// resting levels of the circuits, leave as the greatest use of energy must be within the limit; it may be so without any.
//
// The form CanReturn has no certificates.
package certify
