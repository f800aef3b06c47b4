// Circuit schedules: files beside the site files.

package lang

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"lampwarden/lang/resolve"
	"lampwarden/lang/syntax"
)

// folders opens the folder that a site file stands in, once each. What leads out of it, a link too, cannot be read.
type folders struct {
	open  func(siteFile string) (fs.FS, error)
	known map[string]fs.FS
	close []io.Closer
}

// onDisk gives the folders of files on disk.
func onDisk() *folders {
	f := &folders{known: map[string]fs.FS{}}
	f.open = func(siteFile string) (fs.FS, error) {
		dir := filepath.Dir(siteFile)
		if known, ok := f.known[dir]; ok {
			return known, nil
		}
		root, err := os.OpenRoot(dir)
		if err != nil {
			return nil, err
		}
		f.close = append(f.close, root)
		f.known[dir] = root.FS()
		return f.known[dir], nil
	}
	return f
}

// inMemory gives one folder for every file, or none.
func inMemory(files fs.FS) *folders {
	return &folders{open: func(string) (fs.FS, error) {
		if files == nil {
			return nil, errors.New("there is no folder here to read it from")
		}
		return files, nil
	}}
}

func (f *folders) done() {
	for _, c := range f.close {
		_ = c.Close() // it was only read
	}
}

// schedules reads the tables that the files name, each once. Their texts join the sources.
func (p *Project) schedules(f *folders) resolve.Schedules {
	out := resolve.Schedules{}
	read := map[string]resolve.Schedule{}
	for _, file := range p.Files {
		for _, d := range file.Decls {
			if d, ok := d.(*syntax.ScheduleDecl); ok {
				name := filepath.Join(filepath.Dir(file.Source.Name), filepath.FromSlash(d.Path.Value))
				if _, ok := read[name]; !ok {
					read[name] = p.readSchedule(f, file.Source.Name, d.Path.Value, name)
				}
				out[d] = read[name]
			}
		}
	}
	return out
}

// readSchedule reads one file from the folder of a site file.
func (p *Project) readSchedule(f *folders, siteFile, path, name string) resolve.Schedule {
	if !resolve.GoodPath(path) {
		return resolve.Schedule{}
	}
	folder, err := f.open(siteFile)
	if err != nil {
		return resolve.Schedule{Problem: plain(err)}
	}
	in, err := folder.Open(path)
	if err != nil {
		return resolve.Schedule{Problem: plain(err)}
	}
	defer in.Close()
	if info, err := in.Stat(); err == nil && !info.Mode().IsRegular() {
		return resolve.Schedule{Problem: "it is no file"}
	}
	text, err := io.ReadAll(io.LimitReader(in, syntax.MaxSize+1))
	switch {
	case err != nil:
		return resolve.Schedule{Problem: plain(err)}
	case len(text) > syntax.MaxSize:
		return resolve.Schedule{Problem: fmt.Sprintf("it is longer than the %d bytes (4 MiB) that are read", syntax.MaxSize)}
	}
	return resolve.Schedule{File: p.Sources.Add(name, string(text))}
}

// plain says in plain words why a file cannot be read.
func plain(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "there is no permission to read it"
	case strings.Contains(err.Error(), "escapes"):
		return "it leads out of the folder of the site file"
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return err.Error()
}
