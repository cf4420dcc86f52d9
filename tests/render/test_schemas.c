/* SPDX-License-Identifier: MIT */
/*
 * docs/schemas tells every form of JSON that the sources of render/ write: where one of them has
 * "drawtube.NAME/NUMBER", there is docs/schemas/drawtube.NAME-NUMBER.json, and it is the schema of
 * that form. What stands in the schemas is held by tests/cli/script_schemas.sh.
 */
#include <dirent.h>
#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "check.h"

enum { FORM_MOST = 40, PATH_MOST = 1024 };

typedef struct forms {
    char names[FORM_MOST][64]; /* "drawtube.program/2" */
    size_t count;
} forms;

static char *read_all(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (!file) return NULL;
    const size_t most = 1 << 22;
    char *bytes = calloc(1, most);
    assert_non_null(bytes);
    assert_true(fread(bytes, 1, most - 1, file) < most - 1);
    fclose(file);
    return bytes;
}

static void keep(forms *list, const char *text, size_t size)
{
    char name[sizeof list->names[0]];
    assert_true(size < sizeof name);
    memcpy(name, text, size);
    name[size] = '\0';
    for (size_t i = 0; i < list->count; ++i)
        if (strcmp(list->names[i], name) == 0) return;
    assert_true(list->count < FORM_MOST);
    memcpy(list->names[list->count++], name, sizeof name);
}

/** Every literal "drawtube.name/number" of a source. */
static void find_forms(const char *text, forms *list)
{
    for (const char *at = text; (at = strstr(at, "\"drawtube.")) != NULL;) {
        const char *name = ++at, *word = name + strlen("drawtube.");
        const char *slash = word + strspn(word, "abcdefghijklmnopqrstuvwxyz-");
        if (slash == word || *slash != '/') continue;
        const char *end = slash + 1 + strspn(slash + 1, "0123456789");
        if (end > slash + 1 && *end == '"') keep(list, name, (size_t)(end - name));
    }
}

/** Sources lie in the folder itself or in rooms of it. */
static void look_through(const char *folder, forms *list)
{
    DIR *stream = opendir(folder);
    if (!stream) fail_msg("%s is not there", folder);
    for (struct dirent *entry; (entry = readdir(stream)) != NULL;) {
        char path[PATH_MOST];
        struct stat status;
        if (entry->d_name[0] == '.') continue;
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        assert_int_equal(stat(path, &status), 0);
        const char *ending = strrchr(path, '.');
        if (S_ISDIR(status.st_mode)) {
            look_through(path, list);
        } else if (ending && (strcmp(ending, ".c") == 0 || strcmp(ending, ".h") == 0)) {
            char *text = read_all(path);
            find_forms(text, list);
            free(text);
        }
    }
    closedir(stream);
}

/** Whether "schema" has this one value in the schema, or in each of its kinds of document. */
static bool is_for(const json_t *schema, const char *form)
{
    const json_t *said = json_object_get(json_object_get(schema, "properties"), "schema");
    const json_t *value = json_object_get(said, "const");
    if (value) return strcmp(json_string_value(value), form) == 0;
    const json_t *kinds = json_object_get(schema, "oneOf"), *kind;
    size_t index;
    json_array_foreach(kinds, index, kind)
    {
        const char *pointer = json_string_value(json_object_get(kind, "$ref"));
        if (!pointer || strncmp(pointer, "#/$defs/", 8) != 0) return false;
        if (!is_for(json_object_get(json_object_get(schema, "$defs"), pointer + 8), form))
            return false;
    }
    return json_array_size(kinds) > 0;
}

static void every_form_has_its_schema(void **state)
{
    (void)state;
    forms list = {0};
    look_through(DT_TESTS "/../render", &list);
    assert_true(list.count >= 5); /* program, options, why, odds, rating */
    for (size_t i = 0; i < list.count; ++i) {
        char name[64], path[PATH_MOST];
        snprintf(name, sizeof name, "%s", list.names[i]);
        *strchr(name, '/') = '-';
        snprintf(path, sizeof path, "%s/../docs/schemas/%s.json", DT_TESTS, name);
        char *text = read_all(path);
        if (!text)
            fail_msg("\"%s\" is written, and there is no docs/schemas/%s.json", list.names[i],
                     name);
        json_error_t error;
        json_t *schema = json_loads(text, 0, &error);
        if (!schema) fail_msg("docs/schemas/%s.json:%d: %s", name, error.line, error.text);
        if (!is_for(schema, list.names[i]))
            fail_msg("docs/schemas/%s.json is not the schema of \"%s\"", name, list.names[i]);
        json_decref(schema);
        free(text);
    }
}

/** The search finds what it is for, and nothing else. */
static void forms_are_found_in_sources(void **state)
{
    (void)state;
    forms list = {0};
    find_forms("put(\"schema\", \"drawtube.odds/1\"); f(\"drawtube.x\", \"drawtube./1\", "
               "\"drawtube.why/\") \"drawtube.a-b/12\" \"drawtube.odds/1\"",
               &list);
    assert_int_equal(list.count, 2);
    assert_string_equal(list.names[0], "drawtube.odds/1");
    assert_string_equal(list.names[1], "drawtube.a-b/12");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form_has_its_schema),
        cmocka_unit_test(forms_are_found_in_sources),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
