// Release builds evenstead for every machine it is made for, with Go alone:
//
//	go run ./cmd/release -out dist -version 1.2.0
//
// Into the folder come a static program for each machine, SHA256SUMS, which
// sha256sum -c checks, and evenstead.cdx.json, which lists every module that is in
// the programs (CycloneDX 1.6). The same tree and the same Go give the same bytes.
package main

import (
	"context"
	"debug/buildinfo"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"strings"
)

// A target is a machine to build for.
type target struct{ os, arch, arm string }

// targets are the machines: laptops, small boards and old boards.
func targets() []target {
	return []target{{"linux", "amd64", ""}, {"linux", "arm64", ""}, {"linux", "arm", "6"}, {"darwin", "amd64", ""}, {"darwin", "arm64", ""}, {"windows", "amd64", ""}}
}

// file is what a target's program is called.
func (t target) file(version string) string {
	name := fmt.Sprintf("evenstead-%s-%s-%s", version, t.os, t.arch)
	if t.arm != "" {
		name += "v" + t.arm
	}
	if t.os == "windows" {
		name += ".exe"
	}
	return name
}

// A job is one release.
type job struct {
	out, version, only string
	say                io.Writer
}

func main() {
	j := job{say: os.Stdout}
	flag.StringVar(&j.out, "out", "dist", "`folder` for the programs; made when there is none")
	flag.StringVar(&j.version, "version", "dev", "`version` in the names")
	flag.StringVar(&j.only, "only", "", "build only the machine of this `name`, such as linux-amd64")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := j.run(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

func (j *job) run(ctx context.Context) error {
	if strings.Trim(j.version, "0123456789abcdefghijklmnopqrstuvwxyz.-+") != "" || j.version == "" {
		return fmt.Errorf("version %q: write small letters, digits, points and dashes", j.version)
	}
	if err := os.MkdirAll(j.out, 0o755); err != nil { // #nosec G301 -- programs are there for everybody to run
		return err
	}
	var files []string
	var infos []*debug.BuildInfo
	for _, t := range targets() {
		if j.only != "" && !strings.Contains(t.file(""), j.only) {
			continue
		}
		name := filepath.Join(j.out, t.file(j.version))
		if err := build(ctx, t, name); err != nil {
			return fmt.Errorf("build %s: %w", name, err)
		}
		info, err := buildinfo.ReadFile(name)
		if err != nil {
			return err
		}
		files, infos = append(files, name), append(infos, info)
		fmt.Fprintln(j.say, name)
	}
	if files == nil {
		return fmt.Errorf("no machine is called %q", j.only)
	}
	bom := filepath.Join(j.out, "evenstead.cdx.json")
	text, err := billOf(j.version, infos)
	if err != nil {
		return err
	}
	if err := os.WriteFile(bom, text, 0o644); err != nil { // #nosec G306 -- a list for everybody to read
		return err
	}
	sums, err := sumsOf(append(files, bom))
	if err != nil {
		return err
	}
	fmt.Fprintln(j.say, bom)
	return os.WriteFile(filepath.Join(j.out, "SHA256SUMS"), []byte(sums), 0o644) // #nosec G306 -- sums for everybody to check
}

// build makes one program: static, without paths, times or names of this machine.
func build(ctx context.Context, t target, name string) error {
	cmd := exec.CommandContext(ctx, "go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-o", name, "evenstead/cmd/evenstead") // #nosec G204 -- our own words
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOFLAGS=", "GOEXPERIMENT=", "GOAMD64=v1", "GOARM64=v8.0", "GOOS="+t.os, "GOARCH="+t.arch, "GOARM="+t.arm)
	out, err := cmd.CombinedOutput()
	if err != nil {
		return errors.Join(err, errors.New(strings.TrimSpace(string(out))))
	}
	return nil
}
