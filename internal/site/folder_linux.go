package site

import "golang.org/x/sys/unix"

// mountPoint reports whether another file system, or another place of this one,
// is mounted on the folder. Kernels before 5.8 cannot tell; there the exchange
// itself fails, and the old site stays.
func mountPoint(dir string) bool {
	var st unix.Statx_t
	err := unix.Statx(unix.AT_FDCWD, dir, 0, unix.STATX_BASIC_STATS, &st)
	return err == nil && st.Attributes_mask&st.Attributes&unix.STATX_ATTR_MOUNT_ROOT != 0
}

// writable reports whether this user may remove files from the folder.
func writable(dir string) bool {
	return unix.Faccessat(unix.AT_FDCWD, dir, unix.W_OK|unix.X_OK, unix.AT_EACCESS) == nil
}
