// Ctrl-C in the middle of a proof.

package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// interruptible gives the context of a piece of work that has something to tell when it is stopped early: it ends with the first
// interrupt (Ctrl-C) or SIGTERM. The second one ends the program at once, and so does the first one outside of such work: while
// files are read, say. The work calls done when it is over.
func interruptible(parent context.Context) (ctx context.Context, done func()) {
	ctx, stop := signal.NotifyContext(parent, os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}
