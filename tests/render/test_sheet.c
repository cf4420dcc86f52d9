/* SPDX-License-Identifier: MIT */
/* The sheet of every string of every invented well, read back as XML: the profile that survives
 * a word processor, nothing beyond the page, no figure that is none, and the program's figures. */
#include <libxml/parser.h>
#include <string.h>

#include "drawings.h"
#include "jobs.h"

typedef struct seen {
    int texts;
    char *words; /* all texts, one a line */
    size_t used;
} seen;

enum { WORDS = 1 << 18 };

static double number_of(xmlNodePtr node, const char *name)
{
    xmlChar *value = xmlGetProp(node, BAD_CAST name);
    double number = value ? strtod((const char *)value, NULL) : NAN;
    xmlFree(value);
    return number;
}

static void look(xmlNodePtr node, seen *s)
{
    static const char *const allowed[] = {"svg",  "title", "desc",     "rect", "path",
                                          "line", "g",     "clipPath", "text", "defs"};
    for (; node; node = node->next) {
        if (node->type != XML_ELEMENT_NODE) continue;
        bool known = false;
        for (size_t i = 0; i < sizeof allowed / sizeof *allowed; ++i)
            known = known || strcmp((const char *)node->name, allowed[i]) == 0;
        if (!known) fail_msg("<%s> is used", node->name);
        if (strcmp((const char *)node->name, "text") == 0) {
            double x = number_of(node, "x"), y = number_of(node, "y");
            assert_true(x >= 0 && x <= 840 && y >= 0 && y <= 1188);
            xmlChar *text = xmlNodeGetContent(node);
            int n = snprintf(s->words + s->used, WORDS - s->used, "%s\n", (const char *)text);
            s->used += (size_t)n;
            ++s->texts;
            xmlFree(text);
        }
        look(node->children, s);
    }
}

static void check_sheet(const dt_program *program, size_t index, dt_display display)
{
    dt_text text = {0};
    assert_int_equal(dt_draw_string_sheet(program, index, display, &text), DT_OK);
    xmlDocPtr doc = xmlReadMemory(text.bytes, (int)text.size, NULL, NULL, XML_PARSE_NONET);
    assert_non_null(doc);
    seen s = {.words = calloc(1, WORDS)};
    look(xmlDocGetRootElement(doc), &s);
    assert_true(s.texts > 30);
    assert_null(strstr(s.words, "nan"));
    assert_null(strstr(s.words, "inf "));
    assert_null(strstr(s.words, "\ninf"));
    const dt_job *job = program->items[index].job;
    char want[64];
    for (size_t i = 0; i < job->cement.part_count && job->cement.cemented; ++i) {
        snprintf(want, sizeof want, "\n%.0f\n", job->cement.parts[i].sacks);
        assert_non_null(strstr(s.words, want));
    }
    snprintf(want, sizeof want, "%zu + %zu, range", job->running.joints, job->running.spare_joints);
    assert_non_null(strstr(s.words, want));
    free(s.words);
    xmlFreeDoc(doc);
    dt_text_free(&text);
}

static void check_file(const char *folder, const char *name)
{
    job_file f;
    job_open(folder, name, &f);
    for (size_t i = 0; i < dt_program_strings(f.program); ++i) {
        check_sheet(f.program, i, DT_DISPLAY_FIELD);
        check_sheet(f.program, i, DT_DISPLAY_METRIC);
    }
    job_close(&f);
}

static void invented_wells(void **state)
{
    (void)state;
    static const char *const wells[] = {"alder-reach.xml", "hollinfold.xml", "mizzenlow-shelf.xml",
                                        "brackwater-deep.xml", "thornback-rise.xml"};
    for (size_t i = 0; i < sizeof wells / sizeof *wells; ++i)
        check_file(DT_WELLS, wells[i]);
}

static void published_jobs(void **state)
{
    (void)state;
    check_file(DT_TESTS "/jobs", "example-e.xml");
    check_file(DT_TESTS "/jobs", "lapeyrouse-sacks.xml");
    check_file(DT_TESTS "/jobs", "weak-rock.xml");
    check_file(DT_TESTS "/jobs", "top-below-shoe.xml");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(invented_wells),
                                       cmocka_unit_test(published_jobs)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
