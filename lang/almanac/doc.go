// Package almanac tells what the sun and the law do to a local clock: when the sun rises and sets at a place on a local
// date, and when clocks there are put forward or back. It knows nothing of lighting and imports nothing of ours.
//
// # Events
//
// The sun rises or sets when its upper limb meets a level horizon at sea level in average air, that is when its centre
// stands 50 minutes of arc below the horizon without refraction (34 for refraction, 16 for the sun's radius). Civil dawn
// and dusk are its centre's passages 6 degrees below. This is the US Naval Observatory's definition. Hills, buildings, the
// height of the site and the weather are not in it.
//
// Dawn and sunrise are upward passages, sunset and dusk downward ones. A passage is rounded to the nearest whole minute
// of the local clock. It belongs to the local date on which the clock then stands: to the *civil day of the site*, from
// one local midnight to the next, be that 23, 24 or 25 hours later. So
//
//   - an event need not happen on a date: in polar day the sun stays above (AboveAllDay), in polar night below
//     (BelowAllDay), and near their ends a date may see the sun set but not rise (NotOnDate), because that rise came
//     a little before midnight or comes a little after the next one;
//   - an event may happen twice on one date, soon after midnight and again just before the next one;
//   - sunset may come before sunrise on the same date (in June at Reykjavik shortly after midnight). The four events of
//     a *solar day*, from one deepest stand of the sun to the next, are always in the order dawn, sunrise, sunset,
//     dusk, as far as they exist;
//   - a date that the zone leaves out (30 December 2011 in Apia) has no events at all (NoSuchDate).
//
// An event that does not happen has no time. No time of day stands for "none".
//
// # How they are found
//
// The sun's place comes from Meeus, Astronomical Algorithms, 2nd ed. 1998: apparent position after chapter 25 (low
// accuracy, 0.01 degree), apparent sidereal time after chapter 12. The rise and set formulas of chapter 15 start from the
// hour angle at which a body of fixed declination would cross the horizon, which fails where it only just does or does
// not. Instead the altitude is taken as a curve over time: sampled each hour, with its turning points added, so that it is
// monotone between neighbours and each change of side is one passage, found by bisection. This needs no case for the
// poles. Of an excursion that comes and goes within one hour of a monotone rise or fall (within a tenth of a degree of a
// pole, at an equinox) only the outcome is seen.
//
// Each of 601 published times of the US Naval Observatory, rounded to minutes, is met within 0.6 minutes (see the tests).
// Near polar day and night the sun crosses the horizon at a slant, and real air matters far more than the formula.
//
// The code is our own, because no library of this accuracy was available to the build.
//
// # Zones
//
// Zone rules are those of the IANA time zone database: the machine's copy where it has one, else the copy that is built
// into the program. Rules change by law, sometimes at short notice, so a table of future years holds as far as the rules
// do. Clock changes are read from the offsets from UTC on both sides of each change, never by making a local time that
// may not exist or may exist twice: what time.Date returns for such a time differs between zones.
package almanac
