/* Stands between a program and the file calls of its C library, for what lies under one watched folder.
 *
 * It counts the calls, lets chosen ones fail, fall short or end the process, and writes a log of what reached the
 * kernel, in the order in which it did. Told what to do by the environment (shim.py sets it):
 *
 *   SHIM_FOLDER  the watched folder, absolute and without links     SHIM_STATE  file of the shared counters
 *   SHIM_LOG     the log; none is written without it                SHIM_SORTS  bit mask of the sorts that count for N
 *   SHIM_NTH     N, from 1; 0 for no fault                          SHIM_ERRNO  what the call fails with; 0 for nothing
 *   SHIM_STICKY  1: from the Nth on                                 SHIM_KILL   1: the process ends at the Nth call
 *   SHIM_PART    bytes the Nth write gets through; 0: not short
 *
 * Counters are shared by every process that inherits the environment. Only 64-bit Linux: there the names that end in
 * 64 are the same calls. Not seen: fopen, memory maps, links and the rarer
 * calls; shim.py notices when they mattered.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/sendfile.h>
#include <sys/stat.h>
#include <sys/uio.h>
#include <unistd.h>

_Static_assert(sizeof(off_t) == 8, "64-bit file positions only");

/* In the order of SORTS in shim.py. */
enum sort { OPEN, CREATE, WRITE, TRUNCATE, FSYNC, UNLINK, RENAME, MKDIR, RMDIR, CLOSE, SORTS };

/* Numbers first, because shim.py reads them and need not know how big a lock is. */
struct state {
    uint64_t ready, calls, chosen, hits, counts[SORTS], out_dev, out_node;
    pthread_mutex_t lock;
};

struct head { uint64_t call, node; int64_t at; uint32_t err, what, name, data; };

struct order { int err; size_t part; int ends; };

#define REAL(name) ((__typeof__(&name))real(#name))

static struct state *state;
static const char *folder, *log_path;
static uint64_t sorts, nth, part;
static int fail_errno, sticky, ends;

static void *real(const char *name)
{
    void *found = dlsym(RTLD_NEXT, name);
    if (!found) abort();
    return found;
}

static void give_up(const char *why)
{
    dprintf(2, "shim: %s: %s\n", why, strerror(errno));
    abort();
}

static uint64_t number(const char *name)
{
    const char *text = getenv(name);
    return text ? strtoull(text, NULL, 10) : 0;
}

/* A process that forks others, each with orders of its own, calls this again in each. */
__attribute__((constructor)) void shim_begin(void)
{
    const char *watched = getenv("SHIM_FOLDER"), *path = getenv("SHIM_STATE");
    if (!watched || !path) return;
    int fd = REAL(openat)(AT_FDCWD, path, O_RDWR | O_CLOEXEC);
    if (fd < 0) give_up("no state file");
    state = mmap(NULL, sizeof *state, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
    if (state == MAP_FAILED) give_up("no shared counters");
    REAL(close)(fd);
    log_path = getenv("SHIM_LOG");
    sorts = number("SHIM_SORTS"), nth = number("SHIM_NTH"), part = number("SHIM_PART");
    fail_errno = (int)number("SHIM_ERRNO"), sticky = (int)number("SHIM_STICKY"), ends = (int)number("SHIM_KILL");
    if (!state->ready) { /* the first process runs alone up to here */
        pthread_mutexattr_t kind;
        pthread_mutexattr_init(&kind);
        pthread_mutexattr_setpshared(&kind, PTHREAD_PROCESS_SHARED);
        pthread_mutexattr_setrobust(&kind, PTHREAD_MUTEX_ROBUST); /* its holder may be killed */
        pthread_mutex_init(&state->lock, &kind);
        struct stat out;
        if (fstat(1, &out) == 0) state->out_dev = out.st_dev, state->out_node = out.st_ino;
        state->ready = 1;
    }
    folder = watched;
}

/* Held over the call and its record, so that the log has the order of the kernel. */
static void hold(void)
{
    if (pthread_mutex_lock(&state->lock) == EOWNERDEAD) pthread_mutex_consistent(&state->lock);
}

static void leave(int err)
{
    pthread_mutex_unlock(&state->lock);
    errno = err;
}

static void end_here(void)
{
    for (kill(getpid(), SIGKILL);;) pause();
}

/* Count a call and say what becomes of it. */
static struct order asked(enum sort sort)
{
    struct order order = {0, 0, 0};
    state->calls++, state->counts[sort]++;
    if (!nth || !(sorts >> sort & 1) || ++state->chosen < nth) return order;
    uint64_t n = state->chosen;
    if (ends) order.ends = 1, order.part = part;
    else if (part && (n == nth || (sticky && !fail_errno))) order.part = part;
    else if (fail_errno && (sticky || n == nth + (part ? 1 : 0))) order.err = fail_errno;
    state->hits += order.ends || order.part || order.err;
    if (order.ends && !order.part) end_here();
    return order;
}

static void note(char what, uint64_t node, int64_t at, int err, const char *name, const void *data, size_t size)
{
    if (!log_path) return;
    struct head head = {state->calls, node, at, (uint32_t)err, (uint32_t)what, (uint32_t)strlen(name), (uint32_t)size};
    struct iovec parts[3] = {{&head, sizeof head}, {(void *)name, head.name}, {(void *)data, size}};
    /* Opened anew each time: a program may close descriptors it does not know. */
    int fd = REAL(openat)(AT_FDCWD, log_path, O_WRONLY | O_APPEND | O_CLOEXEC);
    ssize_t whole = (ssize_t)(sizeof head + head.name + size);
    if (fd < 0 || REAL(writev)(fd, parts, 3) != whole) give_up("cannot write the log");
    REAL(close)(fd);
}

/* Path below the watched folder, "" for the folder itself, or NULL. */
static const char *below(const char *full)
{
    size_t n = strlen(folder);
    if (strncmp(full, folder, n) != 0 || (full[n] && full[n] != '/')) return NULL;
    return full[n] ? full + n + 1 : full + n;
}

static const char *by_fd(int fd, char *full, struct stat *about)
{
    int saved = errno;
    char link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = folder ? readlink(link, full, PATH_MAX - 1) : -1;
    const char *name = NULL;
    if (n > 0) full[n] = 0, name = below(full);
    if (name && (fstat(fd, about) || !(S_ISREG(about->st_mode) || S_ISDIR(about->st_mode)))) name = NULL;
    errno = saved;
    return name;
}

#define WATCHED(fd)                                                                                                    \
    char full[PATH_MAX];                                                                                               \
    struct stat about;                                                                                                 \
    const char *name = by_fd(fd, full, &about)

/* `follow`: the last part may be a link, as for an open; else it is taken as it stands, as for an unlink. */
static const char *by_path(int dir, const char *path, int follow, char *full)
{
    if (!folder || !path || !*path) return NULL;
    int saved = errno;
    char joined[2 * PATH_MAX + 2] = "", link[64];
    if (*path != '/' && dir != AT_FDCWD) {
        snprintf(link, sizeof link, "/proc/self/fd/%d", dir);
        ssize_t n = readlink(link, joined, PATH_MAX);
        joined[n > 0 ? n : 0] = 0;
        strcat(joined, "/");
    }
    strncat(joined, path, PATH_MAX);
    const char *name = NULL;
    if (follow && realpath(joined, full)) {
        name = below(full);
    } else {
        size_t n = strlen(joined);
        while (n > 1 && joined[n - 1] == '/') joined[--n] = 0;
        char *slash = strrchr(joined, '/'), *last = slash ? slash + 1 : joined, parent[2 * PATH_MAX + 2] = ".";
        if (slash) snprintf(parent, sizeof parent, "%.*s", (int)(slash == joined ? 1 : slash - joined), joined);
        if (realpath(parent, full) && strlen(full) + strlen(last) + 2 <= PATH_MAX)
            name = (strcat(full, "/"), strcat(full, last), below(full));
    }
    errno = saved;
    return name;
}

/* What the program says to its caller stands in the log among its calls: from there on the caller relies on it. */
static int is_said(int fd)
{
    int saved = errno;
    struct stat about;
    int known = folder && log_path && fstat(fd, &about) == 0;
    errno = saved;
    return known && about.st_dev == state->out_dev && about.st_ino == state->out_node;
}

static ssize_t written(int fd, const void *data, size_t size, off_t at)
{
    WATCHED(fd);
    if (!name && is_said(fd)) {
        hold();
        ssize_t got = REAL(write)(fd, data, size);
        int err = errno;
        if (got > 0) note('=', 0, 0, 0, "", data, (size_t)got);
        leave(err);
        return got;
    }
    if (!name) return at < 0 ? REAL(write)(fd, data, size) : REAL(pwrite)(fd, data, size, at);
    int saved = errno;
    hold();
    struct order order = asked(WRITE);
    if (order.part && size < 2) { /* nothing lies between none and all of it */
        if (order.ends) end_here();
        order.part = 0, order.err = fail_errno;
        if (!fail_errno) state->hits--;
    }
    size_t whole = size;
    if (order.part) size = order.part < whole ? order.part : whole - 1;
    off_t place = at < 0 ? lseek(fd, 0, SEEK_CUR) : at;
    if (fcntl(fd, F_GETFL) & O_APPEND && fstat(fd, &about) == 0) place = about.st_size;
    ssize_t got = order.err ? (errno = order.err, -1)
                  : at < 0  ? REAL(write)(fd, data, size)
                            : REAL(pwrite)(fd, data, size, at);
    int err = got < 0 ? errno : 0;
    note('w', about.st_ino, place, err, name, data, got > 0 ? (size_t)got : 0);
    if (order.ends) end_here();
    leave(err ? err : saved);
    return got;
}

ssize_t write(int fd, const void *data, size_t size) { return written(fd, data, size, -1); }

ssize_t pwrite(int fd, const void *data, size_t size, off_t at)
{
    if (at < 0) return REAL(pwrite)(fd, data, size, at);
    return written(fd, data, size, at);
}

/* One write, gathered first: the kernel takes it as one as well. */
ssize_t writev(int fd, const struct iovec *parts, int count)
{
    WATCHED(fd);
    if (!name && !is_said(fd)) return REAL(writev)(fd, parts, count);
    size_t size = 0;
    for (int i = 0; i < count; i++) size += parts[i].iov_len;
    char *all = malloc(size + 1), *end = all;
    if (!all) give_up("no memory");
    for (int i = 0; i < count; i++) end = mempcpy(end, parts[i].iov_base, parts[i].iov_len);
    ssize_t got = written(fd, all, size, -1);
    free(all);
    return got;
}

/* Copies inside the kernel are declined, as an old kernel does; callers then read and write. */
#define COPY(name_of, to, err, types, args)                                                                            \
    ssize_t name_of types                                                                                              \
    {                                                                                                                  \
        WATCHED(to);                                                                                                   \
        return name ? (errno = err, -1) : REAL(name_of) args;                                                          \
    }
COPY(sendfile, to, EINVAL, (int to, int from, off_t *at, size_t size), (to, from, at, size))
COPY(copy_file_range, to, EOPNOTSUPP, (int from, off_t *from_at, int to, off_t *to_at, size_t size, unsigned flags),
     (from, from_at, to, to_at, size, flags))

static int opened(int dir, const char *path, int flags, mode_t mode)
{
    char full[PATH_MAX];
    struct stat about;
    const char *name = by_path(dir, path, 1, full);
    int saved = errno;
    if (name && stat(full, &about) == 0 && !(S_ISREG(about.st_mode) || S_ISDIR(about.st_mode))) name = NULL;
    errno = saved;
    if (!name) return REAL(openat)(dir, path, flags, mode);
    hold();
    int is_new = flags & O_CREAT && lstat(full, &about) != 0;
    struct order order = asked(is_new ? CREATE : OPEN);
    int fd = order.err ? (errno = order.err, -1) : REAL(openat)(dir, path, flags, mode);
    int err = fd < 0 ? errno : 0;
    uint64_t node = !err && fstat(fd, &about) == 0 ? about.st_ino : 0;
    note(is_new ? 'c' : 'o', node, 0, err, name, NULL, 0);
    if (!err && !is_new && flags & O_TRUNC) note('t', node, 0, 0, name, NULL, 0);
    leave(err ? err : saved);
    return fd;
}

/* The mode is there only when a file may be made. */
#define MODE_OF(flags, mode)                                                                                           \
    mode_t mode = 0;                                                                                                   \
    if (flags & O_CREAT || (flags & O_TMPFILE) == O_TMPFILE) {                                                         \
        va_list rest;                                                                                                  \
        va_start(rest, flags);                                                                                         \
        mode = va_arg(rest, mode_t);                                                                                   \
        va_end(rest);                                                                                                  \
    }

int open(const char *path, int flags, ...)
{
    MODE_OF(flags, mode)
    return opened(AT_FDCWD, path, flags, mode);
}

int openat(int dir, const char *path, int flags, ...)
{
    MODE_OF(flags, mode)
    return opened(dir, path, flags, mode);
}

int creat(const char *path, mode_t mode) { return opened(AT_FDCWD, path, O_CREAT | O_WRONLY | O_TRUNC, mode); }
int __open_2(const char *path, int flags) { return opened(AT_FDCWD, path, flags, 0); }
int __openat_2(int dir, const char *path, int flags) { return opened(dir, path, flags, 0); }

/* The calls that are done or not done, nothing between. */
#define COUNTED(sort, call, what, node, at, name, data)                                                                \
    int saved = errno;                                                                                                 \
    hold();                                                                                                            \
    struct order order = asked(sort);                                                                                  \
    int err = order.err ? order.err : (call) ? errno : 0;                                                              \
    note(what, node, at, err, name, data, strlen(data));                                                               \
    leave(err ? err : saved);                                                                                          \
    return err ? -1 : 0

int ftruncate(int fd, off_t size)
{
    WATCHED(fd);
    if (!name) return REAL(ftruncate)(fd, size);
    COUNTED(TRUNCATE, REAL(ftruncate)(fd, size), 't', about.st_ino, size, name, "");
}

static int synced(int fd, int (*call)(int))
{
    WATCHED(fd);
    if (!name) return call(fd);
    COUNTED(FSYNC, call(fd), S_ISDIR(about.st_mode) ? 'd' : 's', about.st_ino, 0, name, "");
}

int fsync(int fd) { return synced(fd, REAL(fsync)); }
int fdatasync(int fd) { return synced(fd, REAL(fdatasync)); }

int close(int fd)
{
    WATCHED(fd);
    if (!name) return REAL(close)(fd);
    int saved = errno;
    hold();
    struct order order = asked(CLOSE);
    int err = REAL(close)(fd) ? errno : order.err; /* the descriptor is gone even when the close fails */
    note('-', about.st_ino, 0, err, name, NULL, 0);
    leave(err ? err : saved);
    return err ? -1 : 0;
}

int unlinkat(int dir, const char *path, int flags)
{
    char full[PATH_MAX];
    const char *name = by_path(dir, path, 0, full);
    int is_dir = flags & AT_REMOVEDIR;
    if (!name) return REAL(unlinkat)(dir, path, flags);
    COUNTED(is_dir ? RMDIR : UNLINK, REAL(unlinkat)(dir, path, flags), is_dir ? 'x' : 'u', 0, 0, name, "");
}

int unlink(const char *path) { return unlinkat(AT_FDCWD, path, 0); }
int rmdir(const char *path) { return unlinkat(AT_FDCWD, path, AT_REMOVEDIR); }

int mkdirat(int dir, const char *path, mode_t mode)
{
    char full[PATH_MAX];
    const char *name = by_path(dir, path, 0, full);
    if (!name) return REAL(mkdirat)(dir, path, mode);
    COUNTED(MKDIR, REAL(mkdirat)(dir, path, mode), 'm', 0, 0, name, "");
}

int mkdir(const char *path, mode_t mode) { return mkdirat(AT_FDCWD, path, mode); }

int renameat(int old_dir, const char *old, int new_dir, const char *new)
{
    char old_full[PATH_MAX], new_full[PATH_MAX];
    const char *from = by_path(old_dir, old, 0, old_full), *to = by_path(new_dir, new, 0, new_full);
    if (!from) return REAL(renameat)(old_dir, old, new_dir, new); /* moved in: shim.py notices */
    COUNTED(RENAME, REAL(renameat)(old_dir, old, new_dir, new), to ? 'r' : 'u', 0, 0, from, to ? to : "");
}

int rename(const char *old, const char *new) { return renameat(AT_FDCWD, old, AT_FDCWD, new); }

int linkat(int old_dir, const char *old, int new_dir, const char *new, int flags)
{
    char old_full[PATH_MAX], new_full[PATH_MAX];
    const char *from = by_path(old_dir, old, !!(flags & AT_SYMLINK_FOLLOW), old_full);
    const char *to = by_path(new_dir, new, 0, new_full);
    if (!from || !to) return REAL(linkat)(old_dir, old, new_dir, new, flags); /* linked in: shim.py notices */
    COUNTED(CREATE, REAL(linkat)(old_dir, old, new_dir, new, flags), 'l', 0, 0, from, to);
}

int link(const char *old, const char *new) { return linkat(AT_FDCWD, old, AT_FDCWD, new, 0); }

#define ALSO(name, of) extern __typeof__(of) name __attribute__((alias(#of)))
ALSO(open64, open);
ALSO(openat64, openat);
ALSO(creat64, creat);
ALSO(__open64_2, __open_2);
ALSO(__openat64_2, __openat_2);
ALSO(pwrite64, pwrite);
ALSO(sendfile64, sendfile);
ALSO(ftruncate64, ftruncate);
