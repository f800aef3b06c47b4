package source

// The codes of the text alone, which lang/syntax reports, in alphabetical order.

// Codes of the text.
const (
	BadCharacter   Code = "bad-character"
	BadNumber      Code = "bad-number"
	BadTime        Code = "bad-time"
	EmptyFile      Code = "empty-file"
	MissingUnit    Code = "missing-unit"
	NotText        Code = "not-text"
	ReservedWord   Code = "reserved-word"
	TooDeep        Code = "too-deep"
	TooLarge       Code = "too-large"
	TooMany        Code = "too-many-errors"
	UnclosedBrace  Code = "unclosed-brace"
	UnclosedText   Code = "unclosed-text"
	UnexpectedText Code = "unexpected-text"
	UnknownUnit    Code = "unknown-unit"
	UnknownWord    Code = "unknown-word"
	UnopenedBrace  Code = "unopened-brace"
	WrongUnit      Code = "wrong-unit"
)

func textCodes() []CodeInfo {
	return []CodeInfo{}
}
