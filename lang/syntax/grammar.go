package syntax

// The grammar as a parser over tokens.

import (
	"errors"
	"regexp"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// root is what participle parses: one declaration.
type root struct {
	Decl Decl `parser:"@@"`
}

// grammar builds the parser once. The look-ahead is zero: after the first token of an alternative there is no way
// back, except through the (?= ) and (?! ) of the tags. So an error always stands at the first token that no
// continuation of the text before it allows, which is what diagnose relies on.
var grammar = sync.OnceValue(func() *participle.Parser[root] {
	return participle.MustBuild[root](
		participle.Lexer(definition{}),
		participle.UseLookahead(0),
		participle.Union[Decl](
			&GeneratorDecl{},
			&SiteDecl{}, &SupplyDecl{}, &BatteryDecl{}, &ControllerDecl{}, &AreaDecl{}, &CircuitDecl{}, &GroupDecl{},
			&InputDecl{}, &BandDecl{}, &CoverDecl{}, &ModeDecl{}, &PrecedenceDecl{}, &EqualsDecl{}, &AssumeDecl{},
			&RequireDecl{}, &ScenarioDecl{}, &DaysDecl{}, &HolidaysDecl{}, &OutputDecl{}, &NoticeDecl{}, &ConstantDecl{},
			&ParameterDecl{}, &UseDecl{}, &JoinDecl{}, &ScheduleDecl{}, &DaylightDecl{}, &CurveDecl{}),
		participle.Union[Atom](
			&PresenceAtom{}, &VacatedAtom{}, &DaylightAtom{}, &GestureAtom{}, &WasAtom{}, &QuantAtom{}, &AreaAtom{},
			&IlluminanceAtom{}, &PowerAtom{}, &FaultAtom{}, &NameAtom{}),
	)
})

// literals gives every fixed word and mark of the grammar.
var literals = sync.OnceValue(func() []string {
	var out []string
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`"([^"]+)"`).FindAllStringSubmatch(grammar().String(), -1) {
		if !seen[m[1]] {
			seen[m[1]] = true
			out = append(out, m[1])
		}
	}
	return out
})

// Grammar gives the grammar of a declaration in the notation of participle (an EBNF).
func Grammar() string { return grammar().String() }

// parseTokens parses one declaration. When it fails, at is the index of the first token that does not fit, which
// is len(toks) if the declaration ends too soon.
func parseTokens(toks []token) (d Decl, at int, ok bool) {
	peek, err := lexer.Upgrade(&feed{toks: toks})
	if err != nil {
		return nil, 0, false
	}
	r, err := grammar().ParseFromLexer(peek)
	if err == nil {
		return r.Decl, len(toks), true
	}
	var perr participle.Error
	if errors.As(err, &perr) {
		at = min(max(perr.Position().Line, 0), len(toks))
	}
	return nil, at, false
}
