package syntax

// Parsing a file: limits, pieces, recovery.

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"lampwarden/lang/source"
)

// The limits of a file.
const (
	MaxSize  = 4 << 20 // bytes
	MaxDepth = 200     // parentheses and `not` inside one another
	maxDiags = 100     // after so many errors the rest of the file is not read
	maxTries = 20      // errors looked for in one declaration
	// maxTrial is the work spent on finding out what was meant, in tokens parsed over all trials of a file: a few
	// seconds. After that errors are reported without advice.
	maxTrial = 1_000_000
)

type parser struct {
	file  *source.File
	diags source.Diagnostics
	out   *File
	full  bool // enough errors
	spent int  // tokens parsed in trials
}

// Parse reads a file. It never fails: what is wrong is in the diagnostics, and the tree holds the declarations that
// could be read, those with a repaired slip included.
func Parse(f *source.File) (*File, source.Diagnostics) {
	p := &parser{file: f, out: &File{Source: f}}
	if p.refuse() {
		p.out.Faulty = true
		return p.out, p.diags
	}
	s := scan(f, p.report)
	p.out.Comments = s.comments
	if len(s.toks) == 0 {
		p.report(source.Diagnostic{
			Code: source.EmptyFile, Span: p.at(0, 0), Message: "the file declares nothing",
			Suggestion: "begin with `site \"NAME\"`",
		})
	}
	for _, piece := range p.split(s.toks) {
		if p.full {
			break
		}
		p.piece(piece)
	}
	p.out.Faulty = p.diags.HasErrors()
	return p.out, p.diags.Sorted()
}

// refuse reports a file that is not text at all, or too large.
func (p *parser) refuse() bool {
	text := p.file.Text
	if len(text) > MaxSize {
		p.report(source.Diagnostic{
			Code: source.TooLarge, Span: p.at(0, 0),
			Message:    fmt.Sprintf("the file is longer than the %d bytes (4 MiB) that are read", MaxSize),
			Suggestion: "divide the site among several files",
		})
		return true
	}
	bad := strings.IndexByte(text, 0)
	if bad < 0 && !utf8.ValidString(text) {
		bad = invalidAt(text)
	}
	if bad < 0 {
		return false
	}
	p.report(source.Diagnostic{
		Code: source.NotText, Span: p.at(bad, bad+1),
		Message:    "the file is not text in UTF-8",
		Suggestion: "save it as plain text in UTF-8",
	})
	return true
}

func invalidAt(text string) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

func (p *parser) at(from, to int) source.Span {
	return source.Span{File: p.file.ID, Start: int32(from), End: int32(to)}
}

func (p *parser) span(t token) source.Span { return p.at(int(t.start), int(t.end)) }

func (p *parser) report(d source.Diagnostic) {
	if p.full {
		return
	}
	p.diags.Add(d)
	if len(p.diags) >= maxDiags {
		p.full = true
		p.diags.Add(source.Diagnostic{
			Code: source.TooMany, Span: p.at(len(p.file.Text), len(p.file.Text)),
			Message: fmt.Sprintf("more than %d errors; the rest of the file was not read", maxDiags-1),
		})
	}
}

// piece parses the tokens of one declaration. After an error it goes on with a repaired list of tokens, or without
// the broken clause, to find what else is wrong.
func (p *parser) piece(toks []token) {
	if p.full {
		return
	}
	if !p.depthFits(toks) {
		p.broken(toks)
		return
	}
	toks, ok := p.opening(toks)
	if !ok {
		return
	}
	whole := true // nothing was left out
	cut := -1     // where a clause was left out
	last := 0     // where the last error was
	quiet := false
	for try := 0; try < maxTries && !p.full; try++ {
		d, at, ok := parseTokens(toks)
		if ok {
			p.keep(d, toks, whole)
			return
		}
		if n := p.intruder(toks, at); n > 0 {
			d, _, _ = parseTokens(toks[:n])
			p.keep(d, toks[:n:n], whole)
			p.piece(toks[n:])
			return
		}
		last = at
		silent := quiet || at == cut && !complete(toks[:at]) || p.follows(toks, at)
		fixed := p.diagnose(toks, at, silent)
		if isStray(toks, at) && braceDepth(toks, at) == 0 {
			fixed, quiet = without(toks, at), true
		}
		if p.spent += len(toks); fixed == nil && p.spent < maxTrial {
			whole = false
			fixed, cut = dropClause(toks, at, cut)
		}
		if fixed == nil {
			break
		}
		toks = fixed
	}
	p.broken(toks)
	if n := nextOpening(toks, last); n > 0 {
		p.piece(toks[n:])
	}
}

// nextOpening gives the index of the first token after the error that looks like a misspelt declaring word, or 0.
func nextOpening(toks []token, at int) int {
	depth := braceDepth(toks, min(at+1, len(toks)))
	for i := at + 1; i < len(toks); i++ {
		switch toks[i].text {
		case "{":
			depth++
		case "}":
			depth--
		}
		if toks[i].lineStart && toks[i].kind == kindIdent && depth == 0 &&
			source.Closest(toks[i].text, strings.Fields(declWords)) != "" {
			return i
		}
	}
	return 0
}

func (p *parser) keep(d Decl, toks []token, whole bool) {
	if !whole {
		p.broken(toks)
		return
	}
	f := finisher{p: p, toks: toks}
	if f.finish(d) {
		p.out.Decls = append(p.out.Decls, d)
		return
	}
	p.broken(toks)
}

// broken notes the names that a broken declaration would have given.
func (p *parser) broken(toks []token) {
	for i := 1; i < len(toks) && toks[i].kind == kindIdent; i++ {
		p.out.Broken = append(p.out.Broken, &Ident{Node: Node{Span: p.span(toks[i])}, Name: toks[i].text})
		i = afterNumbers(toks, i+1)
		if i >= len(toks) || toks[i].text != "," {
			break
		}
	}
}

// afterNumbers gives the index behind the numbers of a row, if they stand at i.
func afterNumbers(toks []token, i int) int {
	if i >= len(toks) || toks[i].text != "[" {
		return i
	}
	for i < len(toks) && toks[i].text != "]" {
		i++
	}
	return i + 1
}

// opening sees to it that the tokens begin with a declaring word. A misspelt one is reported and put right.
func (p *parser) opening(toks []token) ([]token, bool) {
	t := toks[0]
	if t.kind == kindKeyword && isDeclWord(t.text) {
		return toks, true
	}
	if t.bad {
		if len(toks) == 1 {
			return nil, false
		}
		return p.opening(toks[1:])
	}
	d := source.Diagnostic{
		Code: source.UnknownWord, Span: p.span(t),
		Message: fmt.Sprintf("%s begins no declaration", quote(t)),
	}
	meant := ""
	if t.kind == kindIdent {
		meant = source.Closest(t.text, strings.Fields(declWords))
	}
	if meant == "" {
		d.Notes = []string{"a declaration begins with one of: " + strings.Join(strings.Fields(declWords), ", ")}
		p.report(d)
		return nil, false
	}
	d.Suggestion = fmt.Sprintf("did you mean `%s`?", meant)
	d.Fixes = []source.Fix{{Span: p.span(t), Text: meant}}
	p.report(d)
	fixed := append([]token(nil), toks...)
	fixed[0].kind, fixed[0].text = kindKeyword, meant
	return fixed, true
}

// intruder tells whether the token that does not fit begins a declaration of its own with a misspelt word; if so it
// gives its index.
func (p *parser) intruder(toks []token, at int) int {
	if at == 0 || at >= len(toks) || toks[at].kind != kindIdent || braceDepth(toks, at) > 0 {
		return 0
	}
	if !toks[at].lineStart && source.Closest(toks[at].text, strings.Fields(declWords)) == "" {
		return 0
	}
	if _, _, ok := parseTokens(toks[:at]); !ok {
		return 0
	}
	return at
}

func braceDepth(toks []token, at int) int {
	depth := 0
	for _, t := range toks[:at] {
		switch t.text {
		case "{":
			depth++
		case "}":
			depth--
		}
	}
	return depth
}

// isStray tells whether the token stands for characters without meaning.
func isStray(toks []token, at int) bool { return at < len(toks) && toks[at].bad && toks[at].text == "" }

// follows tells whether an error at the token only follows from one already reported.
func (p *parser) follows(toks []token, at int) bool {
	if at < len(toks) && toks[at].bad {
		return true
	}
	for _, t := range toks[:at] {
		if t.bad && t.kind == kindString {
			return true
		}
	}
	return false
}

// dropClause leaves out the clause with the token that does not fit, or the one before if one has been left out just
// there. A clause is taken to begin with a line. It gives nil if there is none.
func dropClause(toks []token, at, cut int) (fixed []token, from int) {
	open := at - 1
	for open >= 0 && toks[open].text != "{" {
		if toks[open].text == "}" {
			return nil, -1
		}
		open--
	}
	from = at
	if at == cut || at >= len(toks) || toks[at].text == "}" || toks[at].lineStart && !complete(toks[:at]) {
		from--
	}
	for from > open+1 && !toks[from].lineStart {
		from--
	}
	if open < 0 || from <= open {
		return nil, -1
	}
	to := from + 1
	for to < len(toks) && toks[to].text != "}" && (to < at || !toks[to].lineStart) {
		to++
	}
	return append(append([]token(nil), toks[:from]...), toks[to:]...), from
}

// complete tells whether the declaration could end here, so that the clause before is whole.
func complete(toks []token) bool { return reach(toks, []token{word("}")}) > len(toks)+1 }

// depthFits reports parentheses and `not` too deep inside one another.
func (p *parser) depthFits(toks []token) bool {
	var outer []int
	depth := 0
	for _, t := range toks {
		switch t.text {
		case "not":
			depth++
		case "(":
			outer = append(outer, depth)
			depth++
		case ")":
			if n := len(outer); n > 0 {
				depth, outer = outer[n-1], outer[:n-1]
			}
			depth = base(outer)
		default:
			depth = base(outer)
		}
		if depth > MaxDepth {
			p.report(source.Diagnostic{
				Code: source.TooDeep, Span: p.span(t),
				Message:    fmt.Sprintf("more than %d parentheses and `not` inside one another", MaxDepth),
				Suggestion: "give parts of the condition a mode of their own",
			})
			return false
		}
	}
	return true
}

// base is the depth just inside the innermost open parenthesis.
func base(outer []int) int {
	if len(outer) == 0 {
		return 0
	}
	return outer[len(outer)-1] + 1
}
