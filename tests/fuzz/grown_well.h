/* SPDX-License-Identifier: MIT */
#ifndef DRAWTUBE_TESTS_FUZZ_GROWN_WELL_H
#define DRAWTUBE_TESTS_FUZZ_GROWN_WELL_H

#include <stdint.h>
#include <stdio.h>

#include "everything.h"

/*
 * A well file grown from bytes: every byte is one decision, and when they run out a generator
 * seeded by them decides on. Whatever the bytes are, the file is valid or nearly so; a mutation
 * changes one decision. Field and metric units, land and sea, and most optional elements occur.
 */

typedef struct decisions {
    const uint8_t *at;
    size_t left;
    uint64_t state;
} decisions;

static inline decisions decide_from(const uint8_t *bytes, size_t size)
{
    decisions d = {bytes, size, 0x9e3779b97f4a7c15u};
    for (size_t i = 0; i < size; ++i)
        d.state = (d.state ^ bytes[i]) * 0x100000001b3u;
    return d;
}

/** 0 to 255. */
static inline unsigned draw_byte(decisions *d)
{
    if (d->left > 0) {
        --d->left;
        return *d->at++;
    }
    d->state = d->state * 6364136223846793005u + 1442695040888963407u;
    return (unsigned)(d->state >> 56);
}

static inline unsigned draw_below(decisions *d, unsigned n)
{
    return draw_byte(d) % n;
}

/** One time in n. */
static inline bool draw_rare(decisions *d, unsigned n)
{
    return draw_below(d, n) == 0;
}

static inline double draw_between(decisions *d, double low, double high)
{
    return low + (high - low) * draw_byte(d) / 255.0;
}

#define PICK(d, words) ((words)[draw_below((d), (unsigned)(sizeof(words) / sizeof *(words)))])

/** A well in the making: depths in feet, densities in ppg, printed in the units drawn. */
typedef struct grown {
    FILE *out;
    decisions d;
    bool metric, sea, sheer; /* sheer: no spreads */
    double floor, water, objective;
} grown;

static inline void put_depth(grown *g, const char *name, double ft)
{
    if (g->metric)
        fprintf(g->out, " %s=\"%.1f m\"", name, ft * 0.3048);
    else
        fprintf(g->out, " %s=\"%.0f ft\"", name, ft);
}

static inline void put_density(grown *g, const char *name, double ppg)
{
    if (g->metric)
        fprintf(g->out, " %s=\"%.3f sg\"", name, ppg * 0.119826);
    else
        fprintf(g->out, " %s=\"%.2f ppg\"", name, ppg);
}

static inline void put_spread(grown *g)
{
    if (!g->sheer && draw_rare(&g->d, 2))
        fprintf(g->out, " sd=\"%.3f\"",
                draw_between(&g->d, 0.01, 0.3) * (g->metric ? 0.119826 : 1));
}

static inline void put_point(grown *g, double ft, double ppg)
{
    fprintf(g->out, "<point depth=\"%.1f\" value=\"%.3f\"", g->metric ? ft * 0.3048 : ft,
            g->metric ? ppg * 0.119826 : ppg);
    put_spread(g);
    fputs("/>", g->out);
}

static inline void open_table(grown *g, const char *name)
{
    static const char *const between[] = {"gradient", "pressure"};
    fprintf(g->out, "<%s depth_unit=\"%s\" unit=\"%s\" between=\"%s\"", name,
            g->metric ? "m" : "ft", g->metric ? "sg" : "ppg", PICK(&g->d, between));
    if (!g->sheer && draw_rare(&g->d, 2))
        put_depth(g, "correlation_length", draw_between(&g->d, 500, 5000));
    fputs(">", g->out);
}

enum { MOST_ROWS = 12 };

/** Pore wanders upward, fracture stays above it by something. */
static inline void grow_pressures(grown *g)
{
    double depth[MOST_ROWS], pore[MOST_ROWS], fracture[MOST_ROWS];
    size_t count = 2 + draw_below(&g->d, MOST_ROWS - 2);
    double p = draw_between(&g->d, 8.2, 9.0), gap = draw_between(&g->d, 0.8, 4);
    double first = g->floor + g->water + 1;
    for (size_t i = 0; i < count; ++i) {
        depth[i] = first + (g->objective * 1.02 - first) * (double)i / (double)(count - 1);
        pore[i] = p;
        fracture[i] = p + gap > 20.5 ? 20.5 : p + gap;
        p += draw_rare(&g->d, 3) ? draw_between(&g->d, -0.4, 3) : draw_between(&g->d, 0, 0.5);
        if (p < 7) p = 7;
        if (p > 18) p = 18;
        gap += draw_between(&g->d, -1.2, 1.5);
        if (gap < 0.3) gap = 0.3;
    }
    open_table(g, "pore_pressure");
    for (size_t i = 0; i < count; ++i)
        put_point(g, depth[i], pore[i]);
    fputs("</pore_pressure>\n", g->out);
    open_table(g, "fracture_gradient");
    for (size_t i = 0; i < count; ++i)
        put_point(g, depth[i], fracture[i]);
    fputs("</fracture_gradient>\n", g->out);
    if (draw_rare(&g->d, 3)) {
        g->sheer = true; /* from here on */
        open_table(g, "collapse_gradient");
        for (size_t i = 0; i < count; ++i)
            put_point(g, depth[i], pore[i] + draw_between(&g->d, -1.5, 0.25));
        fputs("</collapse_gradient>\n", g->out);
    }
}

static inline void grow_intervals(grown *g)
{
    static const char *const kinds[] = {"lost-circulation", "salt",        "reactive-shale",
                                        "depleted",         "shallow-gas", "fault"};
    static const char *const actions[] = {"case-off", "case-above", "avoid-shoe"};
    static const char *const pores[] = {"yes", "no"};
    double at = g->floor + g->water + draw_between(&g->d, 200, 4000);
    for (unsigned i = 0, count = draw_below(&g->d, 5); i < count; ++i) {
        double base = at + draw_between(&g->d, 5, 800);
        if (base > g->objective - 5) break;
        const char *action = PICK(&g->d, actions);
        fprintf(g->out, "<interval name=\"Zone %u\" kind=\"%s\" action=\"%s\" permeable=\"%s\"", i,
                PICK(&g->d, kinds), action, PICK(&g->d, pores));
        put_depth(g, "top", at);
        put_depth(g, "base", base);
        if (strcmp(action, "avoid-shoe") != 0) put_depth(g, "within", draw_between(&g->d, 0, 1000));
        fputs("/>\n", g->out);
        at = base + draw_between(&g->d, 1, 5000);
    }
    if (draw_rare(&g->d, 3)) {
        fputs("<pay name=\"Pay\"", g->out);
        put_depth(g, "top", g->objective - draw_between(&g->d, 50, 900));
        put_depth(g, "base", g->objective - draw_between(&g->d, 0, 40));
        fputs("/>\n", g->out);
    }
}

static inline void grow_path(grown *g)
{
    double inclination = draw_between(&g->d, 1, 70), azimuth = draw_between(&g->d, 0, 359);
    double kick_off = draw_between(&g->d, 300, 3000), build = draw_between(&g->d, 300, 3000);
    fputs("<path><station md=\"0 ft\" inclination=\"0 deg\" azimuth=\"0 deg\"/>", g->out);
    fprintf(g->out, "<station md=\"%.0f ft\" inclination=\"0 deg\" azimuth=\"%.1f deg\"/>",
            kick_off, azimuth);
    fprintf(g->out, "<station md=\"%.0f ft\" inclination=\"%.1f deg\" azimuth=\"%.1f deg\"/>",
            kick_off + build, inclination, azimuth);
    fprintf(
        g->out, "<station md=\"%.0f ft\" inclination=\"%.1f deg\" azimuth=\"%.1f deg\"/></path>\n",
        kick_off + build + 3.2 * g->objective, inclination, azimuth + draw_between(&g->d, 0, 20));
}

static inline void grow_margins(grown *g)
{
    static const char *const mud[] = {"planned", "pore"};
    static const char *const prefer[] = {"shallowest", "deepest"};
    static const char *const liners[] = {"yes", "no"};
    bool ratio = draw_rare(&g->d, 2);
    fprintf(g->out, "<margins kick_rule=\"%s\"", ratio ? "depth-ratio" : "fixed");
    put_density(g, "trip", draw_between(&g->d, 0, 0.6));
    put_density(g, "kick", draw_between(&g->d, 0, 0.7));
    if (draw_rare(&g->d, 2)) put_density(g, "surge", draw_between(&g->d, 0, 0.4));
    if (ratio) put_density(g, "gain", draw_between(&g->d, 0, 0.3));
    fputs("/>\n", g->out);
    if (draw_rare(&g->d, 2))
        fprintf(g->out,
                "<sticking normal_limit=\"%.0f psi\" abnormal_limit=\"%.0f psi\" "
                "normal_pore=\"9 ppg\" mud=\"%s\"/>\n",
                draw_between(&g->d, 500, 3000), draw_between(&g->d, 1000, 4000), PICK(&g->d, mud));
    fprintf(g->out, "<seats prefer=\"%s\" liners=\"%s\"", PICK(&g->d, prefer), PICK(&g->d, liners));
    if (draw_rare(&g->d, 2)) put_depth(g, "round_to", draw_rare(&g->d, 2) ? 50 : 10);
    fputs("/>\n", g->out);
}

static inline void grow_strength(grown *g)
{
    static const char *const evacuation[] = {"full", "lost-returns", "by-role"};
    static const char *const outside[] = {"water", "mix-water", "mud", "pore", "cemented"};
    static const char *const kick[] = {"gas", "fracture", "by-role"};
    static const char *const method[] = {"reduced-yield", "combined"};
    static const char *const yes[] = {"yes", "no"};
    fprintf(g->out,
            "<design burst=\"%.2f\" collapse=\"%.2f\" tension=\"%.2f\" sour=\"%s\" "
            "collapse_method=\"%s\" max_sections=\"%u\"/>\n",
            draw_between(&g->d, 1, 1.3), draw_between(&g->d, 0.8, 1.2),
            draw_between(&g->d, 1.2, 1.8), PICK(&g->d, yes), PICK(&g->d, method),
            1 + draw_below(&g->d, 4));
    if (draw_rare(&g->d, 3)) return;
    fprintf(g->out, "<loads evacuation=\"%s\" burst_outside=\"%s\" kick=\"%s\" running=\"%s\"",
            PICK(&g->d, evacuation), PICK(&g->d, outside), PICK(&g->d, kick),
            draw_rare(&g->d, 2) ? "overpull" : "shock");
    if (draw_rare(&g->d, 2)) put_density(g, "packer_fluid", draw_between(&g->d, 8.3, 12));
    if (draw_rare(&g->d, 3)) fputs(" green_test=\"1000 psi\"", g->out);
    fputs("/>\n", g->out);
    if (draw_rare(&g->d, 2))
        fprintf(g->out,
                "<wellhead evacuation=\"%.0f %%\" bop=\"60 klbf\" free_length=\"%.0f ft\"/>\n",
                draw_between(&g->d, 20, 100), draw_between(&g->d, 3, 60));
}

static inline void grow_jobs(grown *g)
{
    static const char *const lead[] = {"G neat", "gel"};
    static const char *const kinds[] = {"bow", "rigid"};
    fputs("<slurry name=\"gel\" density=\"12.8 ppg\" yield=\"2.1 ft3/sk\"/>\n", g->out);
    if (draw_rare(&g->d, 2))
        fprintf(g->out,
                "<cementing lead=\"%s\" tail=\"G neat\" excess=\"%.0f %%\" "
                "tail_length=\"%.0f ft\" wait=\"%.0f h\"/>\n",
                PICK(&g->d, lead), draw_between(&g->d, 0, 150), draw_between(&g->d, 100, 2000),
                draw_between(&g->d, 4, 48));
    if (draw_rare(&g->d, 2))
        fprintf(g->out,
                "<running range=\"%u\" centralizer=\"%s\" standoff=\"%.0f %%\" "
                "friction_open=\"%.2f\"/>\n",
                1 + draw_below(&g->d, 3), PICK(&g->d, kinds), draw_between(&g->d, 10, 90),
                draw_between(&g->d, 0.05, 0.5));
    if (draw_rare(&g->d, 2))
        fprintf(g->out,
                "<rheology mud_pv=\"%.0f cP\" mud_yp=\"%.0f Pa\" slurry_pv=\"%.0f cP\" "
                "slurry_yp=\"%.0f Pa\"/>\n",
                draw_between(&g->d, 3, 60), draw_between(&g->d, 1, 20),
                draw_between(&g->d, 20, 150), draw_between(&g->d, 1, 20));
    if (draw_rare(&g->d, 3))
        fputs("<prices currency=\"CU\"><rig per_day=\"45000\"/><pipe per_tonne=\"2300\"/>"
              "<thread per_joint=\"60\"/><liner hanger=\"85000\" packer=\"40000\"/>"
              "<wellhead per_stage=\"38000\"/><cement per_tonne=\"290\"/><bit price=\"24000\"/>"
              "</prices>\n",
              g->out);
}

static inline void grow_conductor(grown *g)
{
    static const char *const methods[] = {"drilled", "driven", "jetted"};
    fprintf(g->out, "<conductor method=\"%s\"", PICK(&g->d, methods));
    if (draw_rare(&g->d, 4))
        fputs(" soil_gradient=\"12 ppg\" returns_gradient=\"9.2 ppg\"", g->out);
    else
        put_depth(g, "depth", g->floor + g->water + draw_between(&g->d, 50, 900));
    fputs("/>\n", g->out);
    if (!draw_rare(&g->d, 4)) return;
    double shoe = g->floor + g->water + draw_between(&g->d, 1000, 3000);
    fputs("<pinned><string role=\"surface\"", g->out);
    if (draw_rare(&g->d, 2) && shoe < 0.9 * g->objective) put_depth(g, "shoe", shoe);
    if (draw_rare(&g->d, 2)) fputs(" hole=\"17.5 in\" od=\"13.375 in\"", g->out);
    if (draw_rare(&g->d, 3)) fputs(" grade=\"K55\"", g->out);
    fputs("/></pinned>\n", g->out);
}

static inline void grow_elements(grown *g)
{
    static const char *const pipes[] = {"4.5", "5", "5.5", "7", "9.625"};
    g->metric = draw_rare(&g->d, 3);
    g->sea = draw_rare(&g->d, 2);
    g->sheer = draw_rare(&g->d, 2);
    g->floor = draw_between(&g->d, 10, 120);
    g->water = g->sea ? draw_between(&g->d, 20, 6000) : 0;
    g->objective = g->floor + g->water + draw_between(&g->d, 1500, 21000);
    fprintf(g->out,
            "<well xmlns=\"urn:drawtube:well:1\" name=\"Grown (invented)\">\n<datum over=\"%s\"",
            g->sea ? "sea" : "ground");
    put_depth(g, "rig_floor", g->floor);
    if (g->sea) put_depth(g, "water_depth", g->water);
    fputs("/>\n<objective", g->out);
    put_depth(g, "depth", g->objective);
    fprintf(g->out, " min_pipe_od=\"%s in\"/>\n", PICK(&g->d, pipes));
    if (draw_rare(&g->d, 3)) grow_path(g);
    grow_pressures(g);
    if (draw_rare(&g->d, 2)) {
        fputs("<fresh_water", g->out);
        put_depth(g, "deepest", g->floor + g->water + draw_between(&g->d, 50, 1400));
        fputs("/>\n", g->out);
    }
    grow_intervals(g);
    grow_margins(g);
    grow_strength(g);
    grow_jobs(g);
    grow_conductor(g);
    fputs("</well>\n", g->out);
}

/** The file; malloc'ed. */
static inline char *grow_well(const uint8_t *bytes, size_t size, size_t *length)
{
    char *text = NULL;
    grown g = {.out = open_memstream(&text, length), .d = decide_from(bytes, size)};
    MUST(g.out);
    grow_elements(&g);
    MUST(fclose(g.out) == 0 && text);
    return text;
}

#endif
