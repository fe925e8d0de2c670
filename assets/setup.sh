#!/bin/sh
# Sets up a bare Debian machine and then does one of these:
#
#   sh assets/setup.sh open   build, and open the program on the sample catalogue;
#                             without a display: write the sample's PDF and scores
#   sh assets/setup.sh test   build, check and test everything
#   sh assets/setup.sh pack   build, and make the tarball and the Debian package
#                             in dist
#   sh assets/setup.sh pictures   draw the pictures of README.md anew
#
# Safe to run again: what is there is not fetched twice. Nothing is written
# outside this folder but the packages that Debian installs and Go's own cache.
set -eu

cd "$(dirname "$0")/.."

GO_VERSION=1.26.11
STATICCHECK=honnef.co/go/tools/cmd/staticcheck@v0.8.2
# SQLite with its full-text index; Fyne told that we keep to its threads, and to
# leave out a typeface of pictograms whose licence does not come with it.
TAGS=sqlite_fts5
RELEASE_TAGS=sqlite_fts5,migrated_fynedo,no_emoji
LIMIT=${PULLBOOK_TEST_MINUTES:-35}

say() { printf '== %s\n' "$*"; }
fail() { printf 'setup: %s\n' "$*" >&2; exit 1; }

as_root() {
	if [ "$(id -u)" = 0 ]; then "$@"
	elif command -v sudo >/dev/null 2>&1; then sudo "$@"
	else fail "installing $* needs root: run this as root once, or install sudo"
	fi
}

# packages NAME...: install what is missing, from Debian.
packages() {
	missing=
	for p in "$@"; do
		dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'ok installed' || missing="$missing $p"
	done
	[ -n "$missing" ] || return 0
	command -v apt-get >/dev/null 2>&1 || fail "this machine has no apt-get; install these yourself:$missing"
	say "installing from Debian:$missing"
	as_root apt-get -qq update
	# shellcheck disable=SC2086
	as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq install -y --no-install-recommends $missing >/dev/null
}

# recent GO: true if that go command is at least 1.21, which fetches the
# version that go.mod names by itself.
recent() {
	v=$("$1" env GOVERSION 2>/dev/null | sed 's/^go1\.\([0-9]*\).*/\1/')
	[ -n "$v" ] && [ "$v" -ge 21 ] 2>/dev/null
}

# find_go: a Go that can build this, found or fetched through Go's own modules.
find_go() {
	for g in "$(command -v go 2>/dev/null || true)" /usr/local/go/bin/go; do
		if [ -n "$g" ] && [ -x "$g" ] && recent "$g"; then
			GO=$g
			return
		fi
	done
	packages ca-certificates golang-1.19-go
	seed=/usr/lib/go-1.19/bin/go
	case $(uname -m) in
	x86_64) arch=amd64 ;;
	aarch64) arch=arm64 ;;
	*) fail "no Go $GO_VERSION for $(uname -m) is known to this script; install Go 1.26 by hand" ;;
	esac
	say "fetching Go $GO_VERSION as a module"
	mod=golang.org/toolchain@v0.0.1-go$GO_VERSION.linux-$arch
	(cd / && GOFLAGS=-mod=mod "$seed" mod download "$mod") || fail "Go $GO_VERSION could not be fetched; install Go 1.26 by hand"
	dir=$("$seed" env GOMODCACHE)/$mod
	# Modules carry no execute bits; the toolchain needs its own back.
	chmod u+w "$dir/bin" "$dir/pkg/tool/linux_$arch"
	chmod u+x "$dir/bin/go" "$dir/bin/gofmt" "$dir"/pkg/tool/linux_"$arch"/*
	GO=$dir/bin/go
}

prepare() {
	packages gcc libc6-dev pkg-config git ca-certificates \
		libgl1-mesa-dev libgl1-mesa-dri libx11-dev libxcursor-dev libxrandr-dev libxinerama-dev libxi-dev libxxf86vm-dev \
		"$@"
	find_go
	PATH=$(dirname "$GO"):$PATH
	export PATH CGO_ENABLED=1
	say "using $(go version | cut -d' ' -f3)"
}

build() {
	say "building (the first time takes some minutes: SQLite and the window are compiled from source)"
	go build -tags "$RELEASE_TAGS" -o bin/pullbook ./app
}

open_sample() {
	prepare poppler-utils
	build
	sample=bin/sample.pullbook
	if [ ! -d "$sample" ]; then
		say "writing the sample catalogue to $sample"
		bin/pullbook sample "$sample"
	fi
	if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
		say "opening $sample"
		exec bin/pullbook "$sample"
	fi
	say "there is no display here, so the sample's printed catalogue and scores are written instead of opening the window"
	bin/pullbook lay-out --catalogue "$sample" --to bin/sample.pdf
	bin/pullbook score --catalogue "$sample" > bin/sample-scores.txt
	cat bin/sample-scores.txt
	say "the book: bin/sample.pdf   the scores: bin/sample-scores.txt"
}

run_tests() {
	prepare xvfb xauth xdotool x11-utils imagemagick poppler-utils qpdf fonts-dejavu-core sqlite3
	mkdir -p bin
	say "gofmt"
	bad=$(gofmt -l app catalog imaging pdfout assets)
	[ -z "$bad" ] || fail "these files are not formatted as gofmt would: $bad"
	say "go vet"
	go vet -tags "$TAGS" ./...
	say "staticcheck"
	GOFLAGS=-tags=$TAGS go run "$STATICCHECK" -checks inherit,ST1000,ST1020,ST1021,ST1022 ./...
	build
	say "tests"
	status=0
	go test -tags "$TAGS" -timeout "${LIMIT}m" -cover -json ./... > bin/tests.json || status=$?
	go run ./assets/summary -program bin/pullbook bin/tests.json
	[ "$status" = 0 ] || fail "tests failed"
}

# Without machine paths (-trimpath) and without what only a debugger reads; by
# the Go named above whatever is installed, for the library's mended faults.
pack() {
	prepare dpkg-dev
	GOTOOLCHAIN=go$GO_VERSION
	export GOTOOLCHAIN
	say "building the release"
	go build -trimpath -tags "$RELEASE_TAGS" -ldflags "-s -w" -o bin/release/pullbook ./app
	go run ./assets/pack -program bin/release/pullbook -to dist
}

# The four places and an entry of the book, small enough to be kept.
pictures() {
	prepare poppler-utils imagemagick
	drawn=$(mktemp -d)
	trap 'rm -rf "$drawn"' EXIT
	go test -tags "$TAGS" ./app/window -run TestPictures -screens "$drawn" -size 1280-light
	build
	bin/pullbook sample "$drawn/sample.pullbook"
	bin/pullbook lay-out --catalogue "$drawn/sample.pullbook" --to "$drawn/book.pdf"
	# An entry of two pages, facing one another; look whether it still stands there.
	pdftoppm -r 100 -f 18 -l 19 -png "$drawn/book.pdf" "$drawn/page"
	mkdir -p assets/readme
	for one in 1-press:press 2-camera:camera 3-table-difference:table 4-desk-entry:desk; do
		convert "$drawn/1280-light-${one%:*}.png" -filter Lanczos -resize 900x +dither -colors 96 -strip "PNG8:assets/readme/${one#*:}.png"
	done
	convert "$drawn/page-18.png" "$drawn/page-19.png" +append -filter Lanczos -resize 900x -bordercolor '#b9b4ac' -border 1 +dither -colors 64 -strip PNG8:assets/readme/page.png
}

case ${1:-} in
open) open_sample ;;
test) run_tests ;;
pack) pack ;;
pictures) pictures ;;
*) printf 'usage: sh assets/setup.sh open|test|pack|pictures\n' >&2; exit 2 ;;
esac
