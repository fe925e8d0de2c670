package main

import (
	"net"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// noDisplay says in a sentence why no window can be shown, "" when one can as
// far as can be told beforehand. The window's own library would end the
// program without a word.
func noDisplay(env func(string) string) string {
	switch runtime.GOOS {
	case "linux", "freebsd", "openbsd", "netbsd":
	default:
		return ""
	}
	const instead = "'pullbook help' lists what can be done without a window"
	wayland, x := env("WAYLAND_DISPLAY"), env("DISPLAY")
	switch {
	case x == "" && wayland == "":
		return "There is no display here to show the window on; " + instead + "."
	case x != "" && !reachable(x):
		return "The display " + x + " does not answer, so the window cannot be shown; " + instead + "."
	}
	return ""
}

// reachable tries the X display of a name such as ":0", "unix:1.0" or
// "host:10".
func reachable(display string) bool {
	host, number, ok := strings.Cut(display, ":")
	if !ok {
		return true // a form unknown here is left to the library
	}
	number, _, _ = strings.Cut(number, ".")
	try := func(network, address string) bool {
		c, err := net.DialTimeout(network, address, 3*time.Second)
		if err == nil {
			c.Close()
		}
		return err == nil
	}
	if host == "" || host == "unix" {
		socket := filepath.Join("/tmp/.X11-unix", "X"+number)
		return try("unix", socket) || try("unix", "@"+socket)
	}
	if strings.HasPrefix(host, "/") {
		return try("unix", display)
	}
	n := 0
	for _, d := range number {
		if d < '0' || d > '9' {
			return true
		}
		n = n*10 + int(d-'0')
	}
	if n > 50000 {
		return true
	}
	return try("tcp", net.JoinHostPort(host, strconv.Itoa(6000+n)))
}
