/* Makes one system call of the database fail, for tests of what happens then.
 * Preloaded before libc (Linux); it sees the calls SQLite makes.
 *
 *   FAULT_AT     the how-manieth call on a file of the catalogue fails, 0 none
 *   FAULT_ERRNO  with which error
 *   FAULT_SHORT  1: a failing write writes half first
 *   FAULT_STAYS  1: every later call fails as well, as on a full disk
 *   FAULT_LOG    a file that gets one letter for each call seen
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <unistd.h>

static int count;

static int of_catalogue(int fd) {
  char link[64], path[4096];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  long n = syscall(SYS_readlinkat, AT_FDCWD, link, path, sizeof path - 1);
  if (n <= 0) return 0;
  path[n] = 0;
  return strstr(path, "victim.pullbook") != NULL;
}

/* fails counts a call and says whether it is to fail. */
static int fails(char letter) {
  const char *log = getenv("FAULT_LOG"), *at = getenv("FAULT_AT"), *stays = getenv("FAULT_STAYS");
  int n = __sync_add_and_fetch(&count, 1);
  if (log) {
    int fd = syscall(SYS_openat, AT_FDCWD, log, O_WRONLY | O_APPEND | O_CREAT, 0644);
    if (fd >= 0) {
      syscall(SYS_write, fd, &letter, 1);
      syscall(SYS_close, fd);
    }
  }
  int k = at ? atoi(at) : 0;
  if (k > 0 && (n == k || (n > k && stays && *stays == '1'))) {
    const char *e = getenv("FAULT_ERRNO");
    errno = e ? atoi(e) : EIO;
    return 1;
  }
  return 0;
}

static int half(void) {
  const char *s = getenv("FAULT_SHORT");
  return s && *s == '1';
}

ssize_t pwrite64(int fd, const void *buf, size_t n, off64_t off) {
  if (of_catalogue(fd) && fails('w')) {
    int e = errno;
    if (half() && n > 1) syscall(SYS_pwrite64, fd, buf, n / 2, off);
    errno = e;
    return -1;
  }
  return syscall(SYS_pwrite64, fd, buf, n, off);
}

ssize_t pwrite(int fd, const void *buf, size_t n, off_t off) { return pwrite64(fd, buf, n, off); }

ssize_t write(int fd, const void *buf, size_t n) {
  if (of_catalogue(fd) && fails('w')) return -1;
  return syscall(SYS_write, fd, buf, n);
}

int fsync(int fd) {
  if (of_catalogue(fd) && fails('s')) return -1;
  return syscall(SYS_fsync, fd);
}

int fdatasync(int fd) {
  if (of_catalogue(fd) && fails('s')) return -1;
  return syscall(SYS_fdatasync, fd);
}

int ftruncate64(int fd, off64_t n) {
  if (of_catalogue(fd) && fails('t')) return -1;
  return syscall(SYS_ftruncate, fd, n);
}

int ftruncate(int fd, off_t n) { return ftruncate64(fd, n); }

int unlink(const char *path) {
  if (strstr(path, "victim.pullbook") && fails('u')) return -1;
  return syscall(SYS_unlinkat, AT_FDCWD, path, 0);
}

static int open_flags(const char *path, int flags, int mode) {
  if ((flags & O_CREAT) && strstr(path, "victim.pullbook") && fails('o')) return -1;
  return syscall(SYS_openat, AT_FDCWD, path, flags, mode);
}

int open64(const char *path, int flags, ...) {
  __builtin_va_list a;
  __builtin_va_start(a, flags);
  int mode = (flags & (O_CREAT | O_TMPFILE)) ? __builtin_va_arg(a, int) : 0;
  __builtin_va_end(a);
  return open_flags(path, flags, mode);
}

int open(const char *path, int flags, ...) {
  __builtin_va_list a;
  __builtin_va_start(a, flags);
  int mode = (flags & (O_CREAT | O_TMPFILE)) ? __builtin_va_arg(a, int) : 0;
  __builtin_va_end(a);
  return open_flags(path, flags, mode);
}
