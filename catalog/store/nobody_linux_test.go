package store

import (
	"os/exec"
	"syscall"
)

// becomeNobody makes a command run with the rights of nobody.
func becomeNobody(c *exec.Cmd) {
	c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
}
