// Package strength asks how strong the requirements of a site are. A proof tells that what was required holds; it does not tell
// what nobody thought of requiring. This package finds out by mutation: it changes one rule of the site at a time and has
// every requirement proved again that can see the change. If none fails, no requirement depends on that rule, and whoever
// reviews the site should know (Chockler, Kupferman, Vardi, "Coverage metrics for temporal logic model checking", 2001: a
// part of a model is covered if changing it changes some verdict).
//
// # Mutants
//
// Mutants are made on the resolved site, never on its text (Seeded): a mode left out, its condition negated or without one of
// its parts; a start, an end, a transition left out, its guard left out or negated, its clock time an hour later; a delay, hold,
// pulse, length or ramp halved, doubled, removed; a setting or a case left out, its level on the other side; a rhythm steady, faster,
// slower; two neighbours of the precedence without order or the other way round; a rule for equals left out or the other one; a
// circuit or the controller on another feed; the levels at which a circuit stands left out or the other ones; a fade or the
// controller's reaction much longer; the end of a band shifted; what a restart keeps. Instances of a template are mutated one by one.
// What follows from a feed follows a mutant, too: when the circuit is dead, what a requirement counts on its supply, how long a
// battery lasts (feed.go, recount.go).
//
// # Fates
//
// A mutant is caught if a requirement that holds on the site fails on it (or what was possible is not). If none does, but a
// built-in check finds something new, that check catches it. It survives if every verdict stays, and is undecided if
// nothing has noticed it but some search met its limit. It is equivalent if it is proved that nobody can see the change
// (same.go); that is never guessed, so that some survivors may be equivalent too.
//
// # Speed
//
// A requirement is asked only if something that can influence it was touched: the slice of the site that the engine takes for it
// (sight.go). The mutants of a rule are asked one after another, the requirement that caught the last one first; the first
// that catches is enough. Searches on equal systems are shared by all mutants (memory.go in package checker), so that the
// same room is searched once for all rooms like it. Rules go on side by side; what is found does not hang on how
// many do.
//
// # Safety
//
// A mutant counts for safety if it touches what a guarded thing does under an alarm, a lost supply or a fault. To be exact:
//
//   - An alarm mode is a mode that an alarm, the loss of a supply or a fault starts by coming: the condition of its "while", a
//     start of its own, or a transition out of its first state reads one that is true there, itself or through a mode of the
//     plant (a latched alarm, a generator that runs). A sensor that sticks makes no alarm mode.
//   - All mutants of an alarm mode count: its presence, triggers, timers, stages, settings of light, and its place above others
//     that share a circuit with it. So do those of the plant modes behind an alarm mode, behind the feed of a guarded circuit,
//     and behind the controller. Not: colours; that a plant's alarm never ends.
//   - A guarded circuit lights a way out (its area is tagged escape), or hangs on a battery or a generator. Its emergency feed
//     lost, its fade lengthened, its system failure level and its power on level changed (if its feed can die) count.
//   - The controller's reaction counts. Its feed, its start and what a restart keeps count unless every light of a way out stands
//     at full without it.
//   - A rhythm of five flashes a second counts, of any mode. Rhythms that stay slow, and steady light, do not.
//
// They are told apart by what they touch, the first that applies: light of a way out (WayOut), a dangerous rhythm (Flashing), other
// light on an emergency supply (Emergency), other light of alarm modes (OtherLight). The packs of package stdlib speak of
// ways out and of flashing alone, as they know a site only by the tags of its areas.
package strength
