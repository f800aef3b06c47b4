// Going through a folder: which files, several at a time, within bounds.

package confirm

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"sync"

	"lampwarden/checker/certify"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Options of a check. The zero value has no bound on memory.
type Options struct {
	Memory   int64                 // bytes that the files that are checked at the same time may need together, by guess; 0: no bound
	Progress func(done, total int) // called after each file, one call at a time; or nil
}

// needs is how many bytes of memory a byte of a certificate may need while it is checked.
const needs = 24

// ErrEmpty tells that a folder has no evidence.
var ErrEmpty = errors.New("the folder has no certificates (.cert) and no runs (.run)")

// evidence is a file of the folder.
type evidence struct {
	name string
	size int64
	run  bool

	// What was found.
	result  *certify.Result    // a certificate that is right
	saved   *rehearse.SavedRun // a run that could be played
	judged  rehearse.Judgement // and what it shows
	refused string             // why it is not accepted, else ""
	claims  int                // the requirement that a refused file says it is of, -1 if it can not be told
	stopped bool               // the check was stopped before it was done
}

// Folder checks every file of evidence in the folder for the site, the whole one if it has Dates. An error is ErrEmpty or that of reading the folder;
// what is wrong with a file is part of the outcome. When ctx ends, what has been found until then is the outcome.
func Folder(ctx context.Context, s *site.Site, dir string, o Options) (*Outcome, error) {
	files, err := list(dir)
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, ErrEmpty
	}
	// What a check makes for a moment is much more than what it keeps: collecting it less often saves a quarter of the work.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	c := &checker{ctx: ctx, site: s, proofs: certify.For(s), dir: dir, budget: newBudget(o.Memory)}
	var (
		mu   sync.Mutex
		wg   sync.WaitGroup
		work = make(chan *evidence)
		done int
	)
	for range runtime.GOMAXPROCS(0) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for f := range work {
				c.check(f)
				mu.Lock()
				if done++; o.Progress != nil {
					o.Progress(done, len(files))
				}
				mu.Unlock()
			}
		}()
	}
	for _, f := range files {
		work <- f
	}
	close(work)
	wg.Wait()
	return tell(s, files), nil
}

// list gives the files of evidence, in the order of their names.
func list(dir string) ([]*evidence, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []*evidence
	for _, e := range entries {
		ext := filepath.Ext(e.Name())
		if ext == ".cert" || ext == ".run" {
			out = append(out, &evidence{name: e.Name(), run: ext == ".run", claims: -1})
		}
	}
	return out, nil
}

// checker checks files; many at the same time.
type checker struct {
	ctx    context.Context
	site   *site.Site
	proofs *certify.Site
	dir    string
	budget *budget
	replay sync.Mutex // one run at a time: each may need much memory
}

// check checks one file.
func (c *checker) check(f *evidence) {
	if f.stopped = c.ctx.Err() != nil; f.stopped {
		return
	}
	file, err := c.open(f)
	if err != nil {
		f.refused = err.Error()
		return
	}
	defer file.Close()
	if f.run {
		c.replay.Lock()
		defer c.replay.Unlock()
		err = c.play(f, file)
	} else {
		err = c.certificate(f, file)
	}
	switch {
	case err == nil:
	case c.ctx.Err() != nil:
		f.stopped = true
	default:
		f.refused = err.Error()
		if _, err := file.Seek(0, io.SeekStart); err == nil {
			f.claims = claimed(file)
		}
	}
}

// open opens a regular file; anything else, a pipe say, could keep a reader waiting for ever.
func (c *checker) open(f *evidence) (*os.File, error) {
	path := filepath.Join(c.dir, f.name)
	info, err := os.Stat(path)
	if err != nil {
		return nil, plain(err)
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is no regular file")
	}
	f.size = info.Size()
	file, err := os.Open(path)
	if err != nil {
		return nil, plain(err)
	}
	return file, nil
}

// plain takes the path off an error of the file system: the file is named beside it.
func plain(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// certificate checks a proof.
func (c *checker) certificate(f *evidence, file io.Reader) error {
	cost := f.size * needs
	if !c.budget.take(cost) {
		return fmt.Errorf("it has %d bytes, and checking it may need more memory than the limit allows", f.size)
	}
	defer c.budget.give(cost)
	result, err := c.proofs.Check(c.ctx, io.LimitReader(file, f.size)) // no more than was reckoned with
	if err != nil {
		return err
	}
	f.result = result
	return nil
}

// play plays a run.
func (c *checker) play(f *evidence, file io.Reader) error {
	saved, err := rehearse.ReadRun(c.site, file)
	if err != nil {
		return err
	}
	if f.judged, err = saved.Replay(); err != nil {
		return err
	}
	f.saved = saved
	return nil
}

// claimed reads from the head of a file which requirement it says it is of, for a reader's orientation only; -1 if it can not be
// told.
func claimed(r io.Reader) int {
	head := make([]byte, 4096)
	n, _ := io.ReadFull(r, head)
	for _, line := range strings.Split(string(head[:n]), "\n") {
		var index int
		var rest string
		if k, _ := fmt.Sscanf(line, "requirement %d %s", &index, &rest); k == 2 {
			return index
		}
	}
	return -1
}

// budget shares an amount of memory out. What is more than all of it is never given.
type budget struct {
	mu    sync.Mutex
	freed *sync.Cond
	left  int64
	all   int64 // 0: no bound
}

func newBudget(all int64) *budget {
	b := &budget{left: all, all: all}
	b.freed = sync.NewCond(&b.mu)
	return b
}

// take waits until there is enough; false: there never will be.
func (b *budget) take(n int64) bool {
	if b.all == 0 {
		return true
	}
	if n > b.all {
		return false
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for b.left < n {
		b.freed.Wait()
	}
	b.left -= n
	return true
}

func (b *budget) give(n int64) {
	if b.all == 0 {
		return
	}
	b.mu.Lock()
	b.left += n
	b.mu.Unlock()
	b.freed.Broadcast()
}

// shown is a text fit for a reader, of bounded length: it may have come out of a file.
func shown(text string) string {
	const most = 400
	if len(text) > most {
		text = text[:most] + "..."
	}
	return source.Escape(text)
}
