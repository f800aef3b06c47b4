package source

// The codes of names and their meaning, which lang/resolve reports, in alphabetical order.

import (
	"fmt"
	"slices"
	"strings"
)

// Codes of names and their meaning; nameCodes explains each.
const (
	BadCount         Code = "bad-count"
	BadRange         Code = "bad-range"
	ClauseConflict   Code = "clause-conflict"
	DuplicateClause  Code = "duplicate-clause"
	DuplicateName    Code = "duplicate-name"
	EmptyBand        Code = "empty-band"
	EmptySelection   Code = "empty-selection"
	EndlessStage     Code = "endless-stage"
	EqualsConflict   Code = "equals-conflict"
	EventNotHere     Code = "event-not-here"
	FlashConflict    Code = "flash-conflict"
	FlashTooLong     Code = "flash-too-long"
	GroupCycle       Code = "group-cycle"
	LightNotHere     Code = "light-not-here"
	ListedTwice      Code = "listed-twice"
	ModeCycle        Code = "mode-cycle"
	ModeNeverStarts  Code = "mode-never-starts"
	NoChange         Code = "no-change"
	NoPresence       Code = "no-presence"
	NoStart          Code = "no-start"
	NoTitle          Code = "no-title"
	NotOneInput      Code = "not-one-input"
	PackTwice        Code = "pack-twice"
	PrecedenceCycle  Code = "precedence-cycle"
	PresenceNowhere  Code = "presence-nowhere"
	SameInstant      Code = "same-instant"
	SiteTooLarge     Code = "site-too-large"
	StageOrder       Code = "stage-order"
	UnknownName      Code = "unknown-name"
	UnknownPack      Code = "unknown-pack"
	UnknownParameter Code = "unknown-parameter"
	UnknownStage     Code = "unknown-stage"
	UnknownTimeZone  Code = "unknown-time-zone"
	UnreachableState Code = "unreachable-state"
	WasNotHere       Code = "was-not-here"
	WrongFile        Code = "wrong-file"
	WrongKind        Code = "wrong-kind"
	WrongWord        Code = "wrong-word"
	ZeroDuration     Code = "zero-duration"
)

func nameCodes() []CodeInfo {
	return slices.Concat(nameCodesAtoL(), nameCodesMtoZ(), structureCodes(), lightCodes(), timeCodes(), powerCodes())
}

// hugeSite is a short text that says very much: 200 rooms in each of which a
// mode has 100 stages for 220 circuits.
func hugeSite() string {
	var rooms, circuits strings.Builder
	for i := range 220 {
		fmt.Fprintf(&circuits, ", c%d", i)
		if i < 200 {
			fmt.Fprintf(&rooms, ", r%d", i)
		}
	}
	return "area hall" + rooms.String() + "\ncircuit spots" + circuits.String() + " in hall { dims }\nalarm fire\n" +
		"mode show for each area a {\n    while fire\n    first for 1 s all circuits full\n" +
		strings.Repeat("    then for 1 s all circuits off\n", 99) + "}\n"
}
