#include "base/outset.h"

#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "base/file.h"
#include "base/sys.h"

typedef struct member {
    const char *name, *path;
    const char *temp;  /* the new content, until it is renamed; NULL: the file is to go away  */
    const char *saved; /* the hard link to the old file while commit runs; NULL: there is none */
    bool unsaved;      /* there is an old file, but the file system has no hard links         */
    bool placed;       /* renamed, or taken away                                              */
} member;

struct bpi_outset {
    bpi_arena *arena;
    const char *dir;
    member *item;
    size_t n, room;
    bool committed;
};

/* Path of `name` in the folder with something added; NULL: no memory. */
static char *make_path(bpi_outset *set, const char *before, const char *name, const char *after)
{
    size_t room = strlen(set->dir) + strlen(before) + strlen(name) + strlen(after) + 2;
    char *path = bpi_arena_take(set->arena, room, 1);
    if (path)
        snprintf(path, room, "%s/%s%s%s", set->dir, before, name, after);
    return path;
}

/* Make the folder and those above it that are missing; errno is 0 or says why not. `dir` is written
 * to meanwhile. The folder itself is tried first: those above it may not even be readable. */
static void make_folders(char *dir)
{
    errno = 0;
    if (bpi_sys_mkdir(dir, 0777) == 0 || errno != ENOENT)
        return;
    for (char *slash = strchr(dir + 1, '/'); slash; slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        int failed = bpi_sys_mkdir(dir, 0777) != 0 && errno != EEXIST && errno != EROFS;
        *slash = '/';
        if (failed)
            return;
    }
    errno = 0;
    bpi_sys_mkdir(dir, 0777); /* with a slash at the end it is there by now */
}

bp_code bpi_outset_new(bpi_outset **out, const char *dir, bp_errors *errs)
{
    *out = NULL;
    if (!dir[0])
        return bpi_error_add(errs, BP_EVALUE, BPI_NOWHERE, "the folder to write to has no name",
                             "name one, such as out");
    bpi_arena *a = bpi_arena_new();
    bpi_outset *set = a ? BPI_TAKE(a, 1, bpi_outset) : NULL;
    char *own = set ? bpi_arena_copy(a, dir, strlen(dir)) : NULL;
    if (!own) {
        bpi_arena_free(a);
        return bpi_error_no_memory(errs);
    }
    *set = (bpi_outset){.arena = a, .dir = own};
    /* Something there that is no folder is noticed by the first add. */
    make_folders(own);
    if (errno != 0 && errno != EEXIST) {
        bp_code rc = bpi_file_error(errs, dir, "make the folder", errno);
        bpi_arena_free(a);
        return rc;
    }
    *out = set;
    return BP_OK;
}

static bp_code add_member(bpi_outset *set, const char *name, member **added, bp_errors *errs)
{
    bpi_where where = {.file = set->dir};
    if (!name[0] || name[0] == '.' || strchr(name, '/') || strlen(name) > 200)
        return bpi_error_f(errs, BP_EVALUE, where,
                           "at most 200 bytes, without '/', not beginning with '.'",
                           "\"%.60s\" is no name for a file in it", name);
    for (size_t i = 0; i < set->n; i++)
        if (strcmp(set->item[i].name, name) == 0)
            return bpi_error_f(errs, BP_EVALUE, where, "", "\"%.60s\" would be written twice",
                               name);
    member *m =
        bpi_arena_more(set->arena, (void **)&set->item, &set->room, set->n, sizeof *set->item);
    char *own = m ? bpi_arena_copy(set->arena, name, strlen(name)) : NULL;
    char *path = own ? make_path(set, "", name, "") : NULL;
    if (!path)
        return bpi_error_no_memory(errs);
    *m = (member){.name = own, .path = path};
    *added = m;
    return BP_OK;
}

bp_code bpi_outset_add(bpi_outset *set, const char *name, const char *bytes, size_t len,
                       bp_errors *errs)
{
    member *m = NULL;
    bp_code rc = add_member(set, name, &m, errs);
    if (!m)
        return rc;
    bpi_text temp = BPI_TEXT_EMPTY;
    rc = bpi_file_write_temp(&temp, m->path, bytes, len, errs);
    if (rc == BP_OK) {
        m->temp = bpi_arena_copy(set->arena, temp.s, temp.len);
        if (m->temp) {
            set->n++;
        } else {
            bpi_sys_unlink(temp.s);
            rc = bpi_error_no_memory(errs);
        }
    }
    bpi_text_release(&temp);
    return rc;
}

bp_code bpi_outset_remove(bpi_outset *set, const char *name, bp_errors *errs)
{
    member *m = NULL;
    bp_code rc = add_member(set, name, &m, errs);
    if (rc == BP_OK)
        set->n++;
    return rc;
}

/* Keep a second name for the old file, if there is one. */
static bp_code save_old(bpi_outset *set, member *m, bp_errors *errs)
{
    char *saved = make_path(set, ".", m->name, ".old");
    if (!saved)
        return bpi_error_no_memory(errs);
    int rc = bpi_sys_link(m->path, saved);
    if (rc != 0 && errno == EEXIST) { /* left over from a run that was killed */
        bpi_sys_unlink(saved);
        rc = bpi_sys_link(m->path, saved);
    }
    if (rc == 0)
        m->saved = saved;
    else if (errno == EPERM || errno == ENOTSUP || errno == EMLINK)
        m->unsaved = true;
    else if (errno != ENOENT)
        return bpi_file_error(errs, m->path, "keep the old file", errno);
    return BP_OK;
}

static bp_code place(member *m, bp_errors *errs)
{
    if (m->temp ? bpi_sys_rename(m->temp, m->path) != 0
                : bpi_sys_unlink(m->path) != 0 && errno != ENOENT)
        return bpi_file_error(errs, m->path, m->temp ? "put it in place" : "remove it", errno);
    m->placed = true;
    return BP_OK;
}

/* The old file comes back; where there was none, the new one goes. */
static bool put_back(member *m)
{
    if (m->unsaved)
        return false;
    if (!m->saved)
        return !m->temp || bpi_sys_unlink(m->path) == 0;
    if (bpi_sys_rename(m->saved, m->path) != 0)
        return false;
    m->saved = NULL;
    return true;
}

bp_code bpi_outset_commit(bpi_outset *set, bp_errors *errs)
{
    bp_code rc = BP_OK;
    for (size_t i = 0; i < set->n && rc == BP_OK; i++)
        rc = save_old(set, &set->item[i], errs);
    for (size_t i = 0; i < set->n && rc == BP_OK; i++)
        rc = place(&set->item[i], errs);
    if (rc == BP_OK)
        rc = bpi_file_sync_folder(set->dir, errs);
    set->committed = rc == BP_OK;
    for (size_t i = set->n; i-- > 0;) {
        member *m = &set->item[i];
        if (rc != BP_OK && m->placed && !put_back(m))
            bpi_error_add(errs, BP_EIO, (bpi_where){.file = m->path},
                          "the new file stands there although others could not be written", "");
        if (m->saved)
            bpi_sys_unlink(m->saved); /* the same file under a second name: nothing is lost */
        m->saved = NULL;
    }
    return rc;
}

void bpi_outset_free(bpi_outset *set)
{
    if (!set)
        return;
    for (size_t i = 0; i < set->n && !set->committed; i++)
        if (set->item[i].temp && !set->item[i].placed)
            bpi_sys_unlink(set->item[i].temp);
    bpi_arena_free(set->arena);
}
