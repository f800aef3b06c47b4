// Interrupts, from outside.

package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// waitFor waits until the process of a command has used a good deal of processor time, so that it is in the middle of its work,
// however loaded the machine is.
func waitFor(t *testing.T, cmd *exec.Cmd, ticks int) {
	t.Helper()
	for range 600 {
		stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", cmd.Process.Pid))
		if err != nil {
			t.Skip(err) // a system without such files
		}
		fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
		var used, more int
		fmt.Sscan(fields[11], &used) // utime and stime of proc(5), in hundredths of a second
		fmt.Sscan(fields[12], &more)
		if used+more >= ticks {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatal("the program does nothing")
}

// processor is the processor time of an ended process.
func processor(cmd *exec.Cmd) time.Duration {
	return cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
}

// Ctrl-C and SIGTERM: what is decided so far is printed, soon, and the exit status is 3.
func TestInterrupt(t *testing.T) {
	for _, sig := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		for _, form := range []string{"text", "json"} {
			cmd := command(t, "prove", "--limit-time", "0", "--no-cache", "--output", form, file(t, endless()))
			var out, messages bytes.Buffer
			cmd.Stdout, cmd.Stderr = &out, &messages
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			waitFor(t, cmd, 100)
			if err := cmd.Process.Signal(sig); err != nil {
				t.Fatal(err)
			}
			at := time.Now()
			if err := cmd.Wait(); cmd.ProcessState.ExitCode() != exitUndecided {
				t.Errorf("%v: %v, exit status %d", sig, err, cmd.ProcessState.ExitCode())
			}
			// Two processors at most were at work: a second of each, on a machine that may be loaded.
			if d, used := time.Since(at), processor(cmd); d > 10*time.Second || used > 4*time.Second {
				t.Errorf("%v: it went on for %v, %v of processor time in all", sig, d, used)
			}
			if form == "text" {
				match(t, "stdout", out.String(), `(?s)undecided +never all\n +Not decided: .*\nproved +full on fire\n.*1 holds and 1 is undecided.*stopped`)
			} else {
				match(t, "stdout", out.String(), `(?s)"full on fire".*"verdict": "proved".*"cancelled": true`)
			}
			match(t, "stderr", messages.String(), `^lampwarden: stopped before everything was decided\n$`)
		}
	}
}

// Where there is nothing to tell yet, the first interrupt ends the program as it ends any other. (SIGTERM stands for both here: a
// shell that starts the tests in the background has them ignore SIGINT.)
func TestInterruptWhileReading(t *testing.T) {
	fifo := filepath.Join(t.TempDir(), "site.lamp")
	if err := syscall.Mkfifo(fifo, 0o600); err != nil {
		t.Skip(err)
	}
	for _, name := range []string{"prove", "rehearse", "format"} {
		cmd := command(t, name, fifo)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(200 * time.Millisecond) // before that nothing of ours can be in the way, either
		if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		endsBy(t, cmd, syscall.SIGTERM)
	}
}

// stubborn is set for a test program that does not end when it is asked to.
const stubborn = "LAMPWARDEN_TEST_STUBBORN"

// stayOn is the work of such a program.
func stayOn() {
	ctx, done := interruptible(context.Background())
	defer done()
	fmt.Println("ready")
	<-ctx.Done()
	time.Sleep(200 * time.Millisecond) // until the old way of the signal is back
	fmt.Println("asked")
	time.Sleep(time.Minute)
	os.Exit(exitInternal)
}

// A second interrupt ends the program at once, whatever it is doing.
func TestSecondInterrupt(t *testing.T) {
	cmd := exec.CommandContext(t.Context(), os.Args[0])
	cmd.Env = append(os.Environ(), stubborn+"=1")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"ready", "asked"} {
		var got string
		if _, err := fmt.Fscanln(out, &got); err != nil || got != word {
			t.Fatalf("%q, %v; want %q", got, err, word)
		}
		if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
	}
	endsBy(t, cmd, syscall.SIGTERM)
}

// endsBy waits for a command that must end by a signal, soon.
func endsBy(t *testing.T, cmd *exec.Cmd, sig syscall.Signal) {
	t.Helper()
	at := time.Now()
	_ = cmd.Wait() // the state tells more
	if ws, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); !ok || !ws.Signaled() || ws.Signal() != sig {
		t.Errorf("it ended with %v", cmd.ProcessState)
	}
	if d := time.Since(at); d > 10*time.Second {
		t.Errorf("it went on for %v", d)
	}
}
