/* Notes what each file held when it was last synced: SYNCED/<number of the file>. Loaded before a program by
   LD_PRELOAD, as `cuts` does; what was written and not synced is then dropped by the harness. Nothing is truly synced:
   the power stays on. */
#define _GNU_SOURCE
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static int keep(int fd) {
    const char *folder = getenv("SYNCED");
    struct stat about;
    char to[400], part[440], from[64], block[1 << 16];
    if (folder == NULL || fstat(fd, &about) != 0) return folder == NULL ? 0 : -1;
    if (!S_ISREG(about.st_mode)) return 0;
    snprintf(to, sizeof to, "%s/%lu", folder, (unsigned long)about.st_ino);
    snprintf(part, sizeof part, "%s.%d", to, (int)gettid());
    snprintf(from, sizeof from, "/proc/self/fd/%d", fd);
    int in = open(from, O_RDONLY), out = open(part, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (in < 0 || out < 0) abort();
    ssize_t n;
    while ((n = read(in, block, sizeof block)) > 0)
        if (write(out, block, (size_t)n) != n) abort();
    close(in);
    close(out);
    return rename(part, to);
}

int fsync(int fd) { return keep(fd); }
int fdatasync(int fd) { return keep(fd); }
