package store

import "syscall"

// File systems on other computers, by the numbers of statfs(2): NFS, SMB, SMB2,
// CIFS. On those, locks and syncs may not keep what they promise.
var networkKinds = map[uint32]bool{0x6969: true, 0x517B: true, 0xFE534D42: true, 0xFF534D42: true}

// onNetwork reports whether a folder is on another computer.
func onNetwork(dir string) bool {
	var s syscall.Statfs_t
	return syscall.Statfs(dir, &s) == nil && networkKinds[uint32(s.Type)]
}
