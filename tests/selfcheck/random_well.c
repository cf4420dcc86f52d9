/* SPDX-License-Identifier: MIT */
#include "random_well.h"

#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define FT 0.3048

static const char *const words_of[FEATURE_COUNT] = {
#define FEATURE_WORDS(name, words) words,
    FEATURE_LIST(FEATURE_WORDS)
#undef FEATURE_WORDS
};

const char *feature_words(feature which)
{
    return which < FEATURE_COUNT ? words_of[which] : "";
}

/* ---- dice and paper -------------------------------------------------------------------------- */

/** Everything is thought in ft and ppg; metric only changes how it is written. */
typedef struct maker {
    uint64_t state;
    uint64_t beside; /* a stream of its own for what came later: see turn_aside() */
    uint64_t level;  /* and one for the course of a lateral */
    uint64_t features;
    char *text;
    size_t size, room;
    bool failed, metric;
    double td, ground, floor_height, conductor, water; /* ft */
    bool sea, depth_ratio;
    double trip, min_od, md_td;
    bool has_overburden, temperature, tying, lateral;
    bool based; /* it stands on customs of practice, not on the bare ones */
    char lead[24], tail[24];
} maker;

/* SplitMix64: Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA
 * 2014; constants from memory. Any generator would do: it has to be the same everywhere. */
static uint64_t roll(maker *m)
{
    uint64_t z = (m->state += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static double between(maker *m, double low, double high)
{
    return low + (high - low) * (double)(roll(m) >> 11) / 9007199254740992.0;
}

static bool chance(maker *m, double part)
{
    return between(m, 0, 1) < part;
}

static int upto(maker *m, int most)
{
    return (int)(roll(m) % (uint64_t)(most + 1));
}

static double to_step(double value, double step)
{
    return step * round(value / step);
}

static void has(maker *m, feature which)
{
    m->features |= (uint64_t)1 << which;
}

/**
 * To the other stream and, called again, back. What wells were given later is drawn beside what
 * they had, so a seed and a number go on naming the same well, with something added.
 */
static void turn_aside(maker *m)
{
    uint64_t state = m->state;
    m->state = m->beside;
    m->beside = state;
}

/** The same for the third stream. */
static void turn_level(maker *m)
{
    uint64_t state = m->state;
    m->state = m->level;
    m->level = state;
}

static bool is_lateral(maker *m)
{
    turn_level(m);
    bool yes = chance(m, 0.1);
    turn_level(m);
    return yes;
}

static bool chance_aside(maker *m, double part)
{
    turn_aside(m);
    bool yes = chance(m, part);
    turn_aside(m);
    return yes;
}

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
put(maker *m, const char *format, ...)
{
    va_list arguments;
    if (m->failed) return;
    if (m->room - m->size < 1024) {
        char *bigger = realloc(m->text, m->room * 2 + 4096);
        if (!bigger) {
            m->failed = true;
            return;
        }
        m->text = bigger;
        m->room = m->room * 2 + 4096;
    }
    va_start(arguments, format);
    int wrote = vsnprintf(m->text + m->size, m->room - m->size, format, arguments);
    va_end(arguments);
    if (wrote < 0 || (size_t)wrote >= m->room - m->size)
        m->failed = true;
    else
        m->size += (size_t)wrote;
}

/** One number drawn into a format. One roll a call: C leaves the order of arguments open. */
static void draw(maker *m, const char *format, double low, double high)
{
    put(m, format, between(m, low, high));
}

static void put_length(maker *m, const char *name, double ft)
{
    if (m->metric)
        put(m, " %s=\"%.1f m\"", name, ft * FT);
    else
        put(m, " %s=\"%.0f ft\"", name, ft);
}

static void put_density(maker *m, const char *name, double ppg)
{
    if (m->metric)
        put(m, " %s=\"%.3f sg\"", name, ppg * 0.1198264);
    else
        put(m, " %s=\"%.2f ppg\"", name, ppg);
}

static void put_pressure(maker *m, const char *name, double psi)
{
    if (m->metric)
        put(m, " %s=\"%.1f bar\"", name, psi * 0.0689476);
    else
        put(m, " %s=\"%.0f psi\"", name, psi);
}

static void put_inches(maker *m, const char *name, double in)
{
    if (m->metric && chance(m, 0.3))
        put(m, " %s=\"%.3f mm\"", name, in * 25.4);
    else
        put(m, " %s=\"%.6g in\"", name, in);
}

/* ---- pressures ------------------------------------------------------------------------------- */

enum { MOST_POINTS = 24 };

typedef struct line {
    double depth[MOST_POINTS], value[MOST_POINTS]; /* ft, ppg */
    size_t count;
} line;

static double at(const line *l, double depth)
{
    size_t i = 0;
    while (i < l->count && l->depth[i] < depth)
        ++i;
    if (i == 0) return l->value[0];
    if (i == l->count) return l->value[l->count - 1];
    double part = (depth - l->depth[i - 1]) / (l->depth[i] - l->depth[i - 1]);
    return l->value[i - 1] + part * (l->value[i] - l->value[i - 1]);
}

static void add_point(line *l, double depth, double value)
{
    if (l->count == MOST_POINTS) return;
    l->depth[l->count] = depth;
    l->value[l->count++] = value;
}

/** Normal down to a depth, then one to three ramps; sometimes back a little at the end. */
static line make_pore(maker *m)
{
    line l = {.count = 0};
    double normal = between(m, 8.4, 8.9), z = m->ground + between(m, 20, 200);
    double turn = m->td * between(m, 0.3, 1.1), most = between(m, 0, 1);
    double climb = m->td / 18000 * 8.5 * most * most;
    add_point(&l, z, normal);
    if (turn < m->td * 0.95) {
        int ramps = 1 + upto(m, 2);
        double from = turn, value = normal + between(m, 0, 0.3);
        add_point(&l, from, value);
        for (int i = 0; i < ramps; ++i) {
            from += (m->td - from) * (i + 1 == ramps ? 1 : between(m, 0.2, 0.7));
            value += climb / ramps * between(m, 0.5, 1.4);
            if (i > 0 && chance(m, 0.15)) value -= between(m, 0.2, 1.5);
            value = fmax(fmin(value, 16.8), normal);
            if (chance(m, 0.12)) {
                add_point(&l, from, value - between(m, 0, 0.4));
                has(m, FEATURE_STEPS);
            }
            add_point(&l, from, value);
        }
        if (from < m->td) add_point(&l, m->td + between(m, 0, 300), value);
    } else {
        double end = m->td + between(m, 0, 300);
        add_point(&l, end, normal + between(m, -0.1, 0.5));
    }
    return l;
}

/** Overburden from air, water and rock that grows denser, as a gradient from the rig floor. */
static line make_overburden(maker *m)
{
    line l = {.count = 0};
    double first = m->ground + 30, rock = between(m, 15.6, 16.8), dense = between(m, 1.5, 3.2);
    for (int i = 0; i <= 8; ++i) {
        double z = first + (m->td + 400 - first) * i * i / 64;
        double mean = rock + dense * (1 - exp(-z / 9000));
        double value = (8.55 * m->water + mean * (z - m->ground)) / z;
        /* from the rig floor the first rock weighs little; a table begins where it carries */
        add_point(&l, z, fmax(value, 12.5));
    }
    return l;
}

/** What rock withstands: pore plus a share of the rest up to the overburden. */
static line make_fracture(maker *m, const line *pore, const line *overburden)
{
    line l = {.count = 0};
    double shallow = between(m, 0.38, 0.55), deep = between(m, 0.75, 0.92);
    double scale = between(m, 2500, 6000);
    int points = 4 + upto(m, 7);
    for (int i = 0; i <= points; ++i) {
        double z = m->ground + 25 + (m->td + 200 - m->ground) * i * i / (points * points);
        double k = shallow + (deep - shallow) * (1 - exp(-z / scale));
        double value = at(pore, z) + k * (at(overburden, z) - at(pore, z)) + between(m, -0.1, 0.1);
        value = fmax(value, at(pore, z) + between(m, 0.5, 1.9));
        if (i > 1 && i < points && chance(m, 0.05)) {
            add_point(&l, z, value);
            has(m, FEATURE_STEPS);
            value = fmax(value - between(m, 0.1, 0.8), at(pore, z) + 0.35);
        }
        add_point(&l, z, value);
    }
    return l;
}

/** How a table is written: its unit, and ppg to that unit at a depth. */
typedef struct table_unit {
    const char *symbol;
    double per_ppg; /* of a gradient; of a pressure, for each ft of depth */
    bool pressure;
} table_unit;

static const table_unit table_units[] = {
    {"ppg", 1, false},         {"ppg", 1, false},           {"sg", 0.11982643, false},
    {"kg/m3", 119.826, false}, {"psi/ft", 0.051948, false}, {"kPa/m", 1.17510, false},
    {"psi", 0.051948, true},   {"bar", 0.0035817, true},
};

static void put_table(maker *m, const char *name, const line *l, bool may_spread)
{
    const table_unit *u = &table_units[m->metric ? 2 + upto(m, 5) : upto(m, 7)];
    bool by_pressure = chance(m, 0.2), spread = may_spread && chance(m, 0.2);
    double depth_scale = m->metric ? FT : 1;
    put(m, "  <%s depth_unit=\"%s\" unit=\"%s\"%s%s>\n", name, m->metric ? "m" : "ft", u->symbol,
        by_pressure ? " between=\"pressure\"" : "",
        spread ? (chance(m, 0.5) ? " correlation_length=\"2000 ft\"" : "") : "");
    if (by_pressure) has(m, FEATURE_PRESSURE);
    if (spread) has(m, FEATURE_SPREAD);
    for (size_t i = 0; i < l->count; ++i) {
        double scale = u->per_ppg * (u->pressure ? l->depth[i] : 1);
        put(m, "    <point depth=\"%.1f\" value=\"%.6g\"", l->depth[i] * depth_scale,
            l->value[i] * scale);
        if (spread && i > 0) put(m, " sd=\"%.4g\"", 0.15 * scale);
        put(m, "/>\n");
    }
    put(m, "  </%s>\n", name);
}

static void put_leak_offs(maker *m, const line *fracture)
{
    if (!chance(m, 0.12)) return;
    has(m, FEATURE_LEAK_OFF);
    double z = m->td * between(m, 0.2, 0.5);
    for (int i = 0; i <= upto(m, 1); ++i, z *= 1.5) {
        double tested = at(fracture, z) + between(m, -0.3, 0.5);
        put(m, "  <leak_off");
        put_length(m, "shoe", z);
        put_density(m, "emw", tested);
        if (chance(m, 0.5)) put_density(m, "deduct", 0.2);
        put(m, "/>\n");
    }
}

static void put_pressures(maker *m)
{
    line pore = make_pore(m), overburden = make_overburden(m);
    line fracture = make_fracture(m, &pore, &overburden);
    bool method = chance(m, 0.15);
    m->has_overburden = method || chance(m, 0.3);
    put_table(m, "pore_pressure", &pore, true);
    if (method) {
        static const char *const methods[] = {"eaton", "matthews-kelly", "christman"};
        int which = upto(m, 3);
        has(m, FEATURE_METHOD);
        if (which == 3)
            put(m, "  <fracture_gradient method=\"hubbert-willis-high\"/>\n");
        else if (chance(m, 0.5))
            put(m, "  <fracture_gradient method=\"%s\" ratio=\"%.2f\"/>\n", methods[which],
                which == 0 ? between(m, 0.4, 0.46) : between(m, 0.65, 0.85));
        else
            put(m,
                "  <fracture_gradient method=\"%s\"><ratio depth=\"0 ft\" value=\"%.2f\"/><ratio "
                "depth=\"9000 ft\" value=\"%.2f\"/></fracture_gradient>\n",
                methods[which], which == 0 ? 0.36 : 0.5, which == 0 ? 0.45 : 0.82);
    } else {
        put_table(m, "fracture_gradient", &fracture, true);
    }
    if (m->has_overburden) {
        has(m, FEATURE_OVERBURDEN);
        put_table(m, "overburden", &overburden, false);
    }
    if (chance(m, 0.2)) {
        line collapse = {.count = 0};
        for (int i = 0; i < 5; ++i) {
            double z = m->ground + 40 + (m->td + 100 - m->ground) * i / 4;
            add_point(&collapse, z, at(&pore, z) + between(m, -0.8, 0.5));
        }
        has(m, FEATURE_COLLAPSE);
        put_table(m, "collapse_gradient", &collapse, false);
    }
    put_leak_offs(m, &fracture);
}

/* ---- place, path, rules ---------------------------------------------------------------------- */

static void put_place(maker *m)
{
    static const double sizes[] = {4.5, 4.5, 5, 5.5, 5.5, 7};
    m->metric = chance(m, 0.35);
    if (m->metric) has(m, FEATURE_METRIC);
    m->sea = chance(m, 0.3);
    bool deep = chance(m, 0.25);
    m->td = to_step(between(m, 2500, deep ? 17500 : 12500), 10);
    m->floor_height = to_step(between(m, 12, 90), 1);
    m->water = m->sea ? to_step(between(m, 60, fmin(1500, m->td / 6)), 5) : 0;
    m->ground = m->floor_height + m->water;
    m->min_od = sizes[upto(m, m->td > 11000 ? 4 : 5)];
    put(m, "  <datum");
    put_length(m, "rig_floor", m->floor_height);
    put(m, " over=\"%s\"", m->sea ? "sea" : "ground");
    if (m->sea) {
        has(m, FEATURE_SEA);
        put_length(m, "water_depth", m->water);
        m->ground = m->metric ? round((m->floor_height + m->water) * FT * 10) / 10 / FT : m->ground;
    }
    put(m, "/>\n  <objective");
    m->lateral = is_lateral(m);
    if (m->lateral)
        put(m, " md=\"end\"");
    else
        put_length(m, "depth", m->td);
    put(m, " min_pipe_od=\"%.6g in\"/>\n", m->min_od);
}

/** Landed at the objective's depth, and on from there for a while, level or nearly. */
static void put_lateral(maker *m)
{
    has(m, FEATURE_LATERAL);
    turn_level(m);
    double angle = between(m, 85, 94), on = between(m, 500, 9000), azimuth = between(m, 0, 359);
    double radians = angle * 3.14159265358979 / 180;
    double rate = between(m, 3, 12) / 100, radius = 180 / 3.14159265358979 / rate;
    double deep = angle > 90 ? radius : radius * sin(radians) + on * cos(radians);
    if (deep > 0.6 * m->td) {
        on = fmin(on, 500);
        radius = 0.3 * m->td;
        rate = 180 / 3.14159265358979 / radius;
        deep = angle > 90 ? radius : radius * sin(radians) + on * cos(radians);
    }
    double kick_off = m->td - deep - (0.02 * on + 5), landed = kick_off + angle / rate;
    bool wavy = chance(m, 0.3);
    m->md_td = landed + on;
    put(m, "  <path>\n    <station md=\"0 ft\" inclination=\"0 deg\" azimuth=\"%.2f deg\"/>\n",
        azimuth);
    double mds[] = {kick_off, landed, landed + on / 2, landed + on};
    double angles[] = {0, angle, angle, angle};
    for (size_t i = 0; i < 4; ++i) {
        if (i == 2 && !wavy) continue;
        put(m, "    <station");
        put_length(m, "md", mds[i]);
        put(m, " inclination=\"%.2f deg\" azimuth=\"%.2f deg\"/>\n",
            i == 2 ? fmax(angle - 1.5, 0) : angles[i], azimuth);
    }
    put(m, "  </path>\n");
    turn_level(m);
}

/** Vertical, build and hold, or build, hold and drop; the last station well below the objective. */
static void put_path(maker *m)
{
    m->md_td = m->td;
    if (m->lateral) {
        put_lateral(m);
        return;
    }
    if (!chance(m, 0.45)) return;
    has(m, FEATURE_DEVIATED);
    double kick_off = m->td * between(m, 0.15, 0.5), angle = between(m, 5, 62);
    double rate = between(m, 1, 4) / 100, length = angle / rate; /* deg/ft */
    double azimuth = between(m, 0, 359), turn = 0;
    if (chance(m, 0.4)) turn = between(m, -60, 60);
    double radians = angle * 3.14159265358979 / 180;
    double built = length * sin(radians) / radians;
    if (kick_off + built > m->td * 0.9) {
        angle = 10;
        radians = angle * 3.14159265358979 / 180;
        length = angle / rate;
        built = length * sin(radians) / radians;
    }
    double hold = fmax((m->td - kick_off - built) / cos(radians), 0);
    bool drop = chance(m, 0.25);
    if (turn != 0) has(m, FEATURE_TURN);
    struct {
        double md, inclination, azimuth;
    } s[6] = {{0, 0, azimuth}, {kick_off, 0, azimuth}};
    size_t n = 2;
    if (turn != 0 && chance(m, 0.5)) {
        s[n].md = kick_off + length / 2;
        s[n].inclination = angle / 2;
        s[n++].azimuth = azimuth;
    }
    s[n].md = kick_off + length;
    s[n].inclination = angle;
    s[n++].azimuth = azimuth;
    if (drop) {
        s[n].md = s[n - 1].md + hold * 0.4;
        s[n].inclination = angle;
        s[n].azimuth = azimuth + turn;
        ++n;
    }
    s[n].md = s[n - 1].md + hold * 1.15 + 500;
    s[n].inclination = drop ? angle * between(m, 0.2, 0.9) : angle;
    s[n].azimuth = azimuth + turn;
    ++n;
    m->md_td = s[n - 1].md;
    put(m, "  <path>\n");
    for (size_t i = 0; i < n; ++i) {
        put(m, "    <station");
        put_length(m, "md", s[i].md);
        put(m, " inclination=\"%.2f deg\" azimuth=\"%.2f deg\"/>\n", s[i].inclination,
            fmod(s[i].azimuth + 360, 360));
    }
    put(m, "  </path>\n");
}

static void put_margin(maker *m, const char *name, double ppg)
{
    if (chance(m, 0.12)) {
        has(m, FEATURE_PRESSURE_MARGIN);
        put_pressure(m, name, ppg * 0.052 * m->td * 0.4);
    } else {
        put_density(m, name, ppg);
    }
}

static void put_margins(maker *m)
{
    /* what practice has is held to where the well says nothing else */
    if (m->based && chance_aside(m, 0.7)) {
        has(m, FEATURE_BASIS_MARGINS);
        return;
    }
    m->depth_ratio = chance(m, 0.3);
    m->trip = between(m, 0.1, 0.6);
    put(m, "  <margins");
    put_margin(m, "trip", m->trip);
    put_margin(m, "kick", m->depth_ratio ? between(m, 0.05, 0.35) : between(m, 0.2, 0.9));
    if (m->depth_ratio) {
        has(m, FEATURE_DEPTH_RATIO);
        put(m, " kick_rule=\"depth-ratio\"");
        if (chance(m, 0.6)) put_density(m, "gain", between(m, 0, 0.3));
    }
    if (chance(m, 0.6)) put_margin(m, "surge", between(m, 0, 0.4));
    if (chance(m, 0.5)) put_margin(m, "safety", between(m, 0, 0.3));
    turn_aside(m);
    if (chance(m, 0.25)) {
        has(m, FEATURE_DRILLING);
        put_margin(m, "drilling", between(m, 0.1, 0.8));
    }
    turn_aside(m);
    put(m, "/>\n");
}

static void put_conductor(maker *m)
{
    double least = m->depth_ratio ? 350 : 130;
    m->conductor = to_step(m->ground + between(m, least, least + 400), 10);
    bool drilled = chance(m, 0.55);
    put(m, "  <conductor method=\"%s\"",
        drilled          ? "drilled"
        : chance(m, 0.5) ? "driven"
                         : "jetted");
    if (!drilled) has(m, FEATURE_DRIVEN);
    if (chance(m, 0.12)) {
        has(m, FEATURE_COMPUTED);
        double returns = between(m, 8.8, 9.4);
        put_density(m, "soil_gradient", returns + between(m, 0.9, 2.5));
        put_density(m, "returns_gradient", returns);
        if (m->sea && chance(m, 0.5)) put_density(m, "sea_gradient", 8.55);
        if (chance(m, 0.3)) put_length(m, "flowline", m->floor_height * 0.7);
        m->conductor = m->ground + 400;
    } else {
        put_length(m, "depth", m->conductor);
    }
    if (chance_aside(m, 0.25)) {
        bool bop = chance_aside(m, 0.5);
        if (!bop) has(m, FEATURE_DIVERTER);
        put(m, " bop=\"%s\"", bop ? "yes" : "no");
    } else if (m->based) {
        has(m, FEATURE_DIVERTER);
    }
    put(m, "/>\n");
}

static void put_interval(maker *m, int number, double top, double base)
{
    static const char *const kinds[] = {"lost-circulation", "salt",  "reactive-shale", "gas",
                                        "depleted",         "fault", "other",          "coal"};
    static const char *const beside[] = {"unstable", "shallow-gas", "overpressure"};
    const char *kind = kinds[upto(m, 7)];
    if (chance_aside(m, 0.25)) {
        turn_aside(m);
        kind = beside[upto(m, 2)];
        turn_aside(m);
    }
    int action = upto(m, 3);
    put(m, "  <interval name=\"Bed %d\" kind=\"%s\"", number, kind);
    put_length(m, "top", top);
    put_length(m, "base", base);
    if (action >= 2) {
        put(m, " action=\"avoid-shoe\"");
        has(m, FEATURE_AVOID_SHOE);
    } else {
        put(m, " action=\"%s\"", action ? "case-off" : "case-above");
        has(m, action ? FEATURE_CASE_OFF : FEATURE_CASE_ABOVE);
        if (chance(m, 0.85)) put_length(m, "within", between(m, 100, 1800));
    }
    if (strcmp(kind, "salt") == 0) has(m, FEATURE_SALT);
    if (chance(m, 0.5)) put(m, " permeable=\"%s\"", chance(m, 0.5) ? "yes" : "no");
    if (chance(m, 0.1)) {
        put_length(m, "sd", 40);
        has(m, FEATURE_SPREAD);
    }
    put(m, "/>\n");
}

static void put_rock(maker *m)
{
    if (chance(m, 0.65)) {
        has(m, FEATURE_FRESH_WATER);
        double deepest = m->ground + between(m, 100, fmin(2200, m->td * 0.3));
        put(m, "  <fresh_water");
        put_length(m, "deepest", deepest);
        if (chance(m, 0.5)) put_length(m, "cover", between(m, 20, 120));
        put(m, "/>\n");
    }
    int beds = chance(m, 0.5) ? 0 : 1 + upto(m, 2);
    double z = m->ground + m->td * between(m, 0.2, 0.4);
    for (int i = 0; i < beds && z < m->td * 0.9; ++i) {
        double base = z + between(m, 30, m->td * 0.1);
        if (base > m->td * 0.97) break;
        put_interval(m, i + 1, z, base);
        z = base + (chance(m, 0.2) ? 5 : between(m, 50, m->td * 0.3));
    }
    if (chance(m, 0.5)) {
        has(m, FEATURE_PAY);
        double top = m->td * between(m, 0.9, 0.98);
        put(m, "  <pay name=\"Pay\"");
        put_length(m, "top", top);
        put_length(m, "base", fmin(top + 80, m->td - 5));
        put(m, "/>\n");
    }
    if (chance(m, 0.5)) {
        has(m, FEATURE_STICKING);
        put(m, "  <sticking");
        put_pressure(m, "normal_limit", between(m, 700, 2800));
        put_pressure(m, "abnormal_limit", between(m, 1000, 3500));
        put_density(m, "normal_pore", between(m, 8.8, 9.6));
        if (chance(m, 0.3)) put(m, " mud=\"pore\"");
        if (chance(m, 0.3)) put(m, " rock=\"listed\"");
        put(m, "/>\n");
    }
}

static void put_seats(maker *m)
{
    bool past = chance_aside(m, 0.25);
    if (past || m->based) has(m, FEATURE_PAST);
    if (!chance(m, 0.8)) {
        if (past) put(m, "  <seats past=\"40 ft\"/>\n");
        return;
    }
    put(m, "  <seats");
    if (chance(m, 0.75)) {
        has(m, FEATURE_ROUNDED);
        put_length(m, "round_to", m->metric ? 10 / FT : chance(m, 0.5) ? 50 : 25);
    }
    if (chance(m, 0.35)) {
        has(m, FEATURE_DEEPEST);
        put(m, " prefer=\"deepest\"");
    }
    if (chance(m, 0.5)) put_length(m, "lap", between(m, 150, 500));
    if (chance(m, 0.15)) {
        has(m, FEATURE_NO_LINERS);
        put(m, " liners=\"no\"");
    }
    if (past) {
        turn_aside(m);
        put_length(m, "past", between(m, 20, 120));
        turn_aside(m);
    }
    put(m, "/>\n");
}

/* ---- pipe and loads -------------------------------------------------------------------------- */

static void put_design(maker *m)
{
    if (!chance(m, 0.7)) return;
    has(m, FEATURE_DESIGN);
    put(m, "  <design");
    if (chance(m, 0.8)) put(m, " burst=\"%.3g\"", between(m, 1.0, 1.25));
    if (chance(m, 0.8)) put(m, " collapse=\"%.3g\"", between(m, 0.85, 1.125));
    if (chance(m, 0.8)) put(m, " tension=\"%.3g\"", between(m, 1.3, 1.8));
    if (chance(m, 0.6)) put(m, " tension_pulled=\"%.3g\"", between(m, 1.2, 1.7));
    if (chance(m, 0.8)) put(m, " triaxial=\"%.3g\"", between(m, 1.1, 1.3));
    if (chance(m, 0.5)) put(m, " overpull=\"%.0f klbf\"", between(m, 0, 120));
    if (chance(m, 0.5)) put(m, " gas_gradient=\"%.3f psi/ft\"", between(m, 0.06, 0.2));
    if (chance(m, 0.25)) {
        has(m, FEATURE_COMBINED);
        put(m, " collapse_method=\"combined\"");
    }
    if (chance(m, 0.12)) {
        has(m, FEATURE_SOUR);
        put(m, " sour=\"yes\"");
    }
    if (chance(m, 0.35)) {
        has(m, FEATURE_TAPER);
        put(m, " max_sections=\"%d\"", 1 + upto(m, 4));
        if (chance(m, 0.6)) put_length(m, "min_section", between(m, 100, 900));
        if (chance(m, 0.4)) put_length(m, "gauge", between(m, 50, 400));
        if (chance(m, 0.5)) put_length(m, "crossover", between(m, 0, 60));
    }
    put(m, "/>\n");
}

static void put_sizes(maker *m)
{
    if (!chance(m, 0.45)) return;
    has(m, FEATURE_SIZES);
    put(m, "  <sizes special_drift=\"%s\"", chance(m, 0.6) ? "yes" : "no");
    put(m, " opened_hole=\"%s\"", chance(m, 0.4) ? "yes" : "no");
    if (!chance(m, 0.3)) {
        put(m, "/>\n");
        return;
    }
    draw(m, ">\n    <clearance up_to_od=\"7.625 in\" radial=\"%.3f in\"/>\n", 0.2, 0.42);
    draw(m, "    <clearance up_to_od=\"13.625 in\" radial=\"%.3f in\"/>\n", 0.4, 0.8);
    draw(m, "    <clearance up_to_od=\"40 in\" radial=\"%.3f in\"/>\n  </sizes>\n", 0.9, 2.5);
}

static void put_loads(maker *m)
{
    static const char *const outside[] = {"water", "mix-water", "mud", "pore", "cemented"};
    if (!chance(m, 0.5)) return;
    has(m, FEATURE_LOADS);
    int kick = upto(m, 3);
    static const char *const kicks[] = {"gas", "fracture", "influx", "by-role"};
    put(m, "  <loads kick=\"%s\"", kicks[kick]);
    if (kick == 2 || (kick == 3 && chance(m, 0.5))) {
        has(m, FEATURE_LOAD_INFLUX);
        draw(m, " influx=\"%.0f bbl\"", 10, 120);
        put(m, " drill_pipe=\"%s\"", chance(m, 0.5) ? "3.5 in" : "2.875 in");
    }
    if (chance(m, 0.4)) {
        has(m, FEATURE_LOAD_LOSSES);
        put(m, " evacuation=\"%s\"", chance(m, 0.5) ? "lost-returns" : "by-role");
    }
    if (chance(m, 0.3)) put(m, " running=\"shock\"");
    if (chance(m, 0.6)) put(m, " burst_outside=\"%s\"", outside[upto(m, 4)]);
    if (chance(m, 0.4)) put_density(m, "packer_fluid", between(m, 8.4, 11));
    if (chance(m, 0.2)) {
        put_pressure(m, "stimulation", between(m, 1000, 4000));
        put_density(m, "stimulation_fluid", between(m, 8.4, 9));
    }
    if (chance(m, 0.4)) put_pressure(m, "bump_margin", between(m, 200, 1000));
    if (chance(m, 0.3)) put_density(m, "cement", between(m, 15.6, 17));
    if (chance(m, 0.2)) put_density(m, "displacement", between(m, 8.5, 10));
    if (chance(m, 0.2)) put_pressure(m, "green_test", between(m, 300, 1500));
    if (chance(m, 0.3)) put_length(m, "unfilled", between(m, 300, 2500));
    put(m, ">\n");
    if (chance(m, 0.5)) {
        put(m, "    <test role=\"surface\"");
        put_pressure(m, "pressure", between(m, 500, 1800));
        put(m, "/>\n");
    }
    if (chance(m, 0.5)) {
        put(m, "    <test role=\"production\"");
        put_pressure(m, "pressure", between(m, 1000, 4500));
        put_density(m, "fluid", between(m, 8.4, 9.5));
        put(m, "/>\n");
    }
    put(m, "  </loads>\n");
}

static void put_heat(maker *m)
{
    m->temperature = chance(m, 0.3);
    if (!m->temperature) return;
    has(m, FEATURE_TEMPERATURE);
    double bottom = 60 + m->td * between(m, 0.009, 0.017);
    put(m, "  <temperature depth_unit=\"ft\" unit=\"degF\"");
    if (chance(m, 0.6)) put(m, " heating=\"%.0f\"", between(m, 10, 90));
    put(m, "><point depth=\"%.0f\" temperature=\"%.0f\"/>", m->ground, between(m, 40, 59));
    put(m, "<point depth=\"%.0f\" temperature=\"%.0f\"/></temperature>\n", m->td + 200, bottom);
    if (!chance(m, 0.6)) return;
    has(m, FEATURE_DERATING);
    put(m, "  <derating unit=\"degF\"><point temperature=\"80\" yield=\"100 %%\"/>");
    draw(m, "<point temperature=\"%.0f\"", 250, 400);
    draw(m, " yield=\"%.0f %%\"/></derating>\n", 85, 96);
}

static void put_wellhead(maker *m)
{
    if (!chance(m, 0.35)) return;
    has(m, FEATURE_WELLHEAD);
    put(m, "  <wellhead");
    if (chance(m, 0.5)) put(m, " evacuation=\"%.0f %%\"", between(m, 30, 100));
    if (chance(m, 0.8)) put(m, " bop=\"%.0f klbf\"", between(m, 20, 90));
    if (chance(m, 0.5)) put(m, " head=\"%.0f klbf\"", between(m, 4, 20));
    if (chance(m, 0.5)) put_length(m, "free_length", between(m, 10, 60));
    if (chance(m, 0.3)) put(m, " end_factor=\"0.7\"");
    if (chance(m, 0.3)) put(m, " hung_buckles=\"no\"");
    if (m->sea && chance(m, 0.5)) put(m, " mudline=\"yes\"");
    put(m, "/>\n");
}

static void put_kick(maker *m)
{
    if (!chance(m, 0.4)) return;
    has(m, FEATURE_KICK);
    put(m, "  <kick_tolerance");
    if (chance(m, 0.6)) put_density(m, "intensity", between(m, 0, 0.5));
    if (chance(m, 0.5)) put(m, " influx=\"%.3f psi/ft\"", between(m, 0.06, 0.2));
    if (chance(m, 0.4)) put_density(m, "margin", between(m, 0, 0.3));
    if (m->temperature && chance(m, 0.5)) {
        has(m, FEATURE_REAL_GAS);
        put(m, " gas_law=\"real\" gas_gravity=\"%.2f\"", between(m, 0.58, 0.75));
    }
    if (chance(m, 0.3)) {
        has(m, FEATURE_SEAT_VOLUME);
        draw(m, " seat_volume=\"%.0f bbl\"", 5, 25);
        put(m, " seat_hole=\"%s\"", chance(m, 0.5) ? "12.25 in" : "8.5 in");
        put_length(m, "seat_below", m->conductor + 1200);
    }
    if (!chance(m, 0.4)) {
        put(m, "/>\n");
        return;
    }
    put(m, ">\n    <hole up_to=\"8.75 in\" minimum=\"%.0f bbl\"", between(m, 10, 40));
    if (chance_aside(m, 0.5)) {
        has(m, FEATURE_LEAST_INFLUX);
        put(m, " least=\"10 bbl\"");
    }
    put(m, " drill_pipe=\"4 in\" collars=\"6.25 in\" collar_length=\"500 ft\"/>\n    <hole "
           "up_to=\"60 in\" drill_pipe=\"5 in\" collars=\"8 in\" collar_length=\"600 "
           "ft\"/>\n  </kick_tolerance>\n");
}

/* ---- jobs and money -------------------------------------------------------------------------- */

static void put_slurries(maker *m)
{
    m->lead[0] = m->tail[0] = '\0';
    if (!chance(m, 0.4)) return;
    has(m, FEATURE_SLURRIES);
    put(m, "  <slurry name=\"lead mix\"");
    put_density(m, "density", between(m, 11.5, 14.5));
    draw(m, " yield=\"%.3f ft3/sk\"", 1.4, 2.6);
    draw(m, " water=\"%.2f gal/sk\"/>\n", 7, 14);
    put(m, "  <slurry name=\"tail mix\"");
    put_density(m, "density", between(m, 15, 17));
    put(m, " yield=\"%.3f ft3/sk\"/>\n", between(m, 1.05, 1.3));
    snprintf(m->lead, sizeof m->lead, "lead mix");
    snprintf(m->tail, sizeof m->tail, "tail mix");
}

static void put_cementing(maker *m)
{
    static const char *const tests[] = {"internal-yield", "0.22-psi-per-ft", "0.2-psi-per-ft",
                                        "none"};
    if (!chance(m, 0.5)) return;
    has(m, FEATURE_CEMENTING);
    put(m, "  <cementing");
    if (m->lead[0] && chance(m, 0.6)) put(m, " lead=\"%s\"", m->lead);
    if (m->tail[0] && chance(m, 0.6)) put(m, " tail=\"%s\"", m->tail);
    if (chance(m, 0.5)) put_length(m, "above_shoe", between(m, 200, 1200));
    if (chance(m, 0.5)) put_length(m, "tail_length", between(m, 100, 1000));
    if (chance(m, 0.5)) put(m, " excess=\"%.0f %%\"", between(m, 0, 80));
    if (chance(m, 0.4)) put_length(m, "rathole", between(m, 0, 25));
    if (chance(m, 0.2)) put(m, " rathole_excess=\"no\"");
    if (chance(m, 0.3)) put_density(m, "spacer_density", between(m, 9, 13));
    if (chance(m, 0.3)) put_length(m, "spacer_length", between(m, 200, 900));
    if (chance(m, 0.2)) put_density(m, "displacement_density", between(m, 8.5, 11));
    if (chance(m, 0.3)) put(m, " mix_rate=\"%.1f bbl/min\"", between(m, 2, 8));
    if (chance(m, 0.3)) put(m, " displacement_rate=\"%.1f bbl/min\"", between(m, 2, 10));
    if (chance(m, 0.3))
        put(m, " pump_bore=\"6 in\" pump_stroke=\"10 in\" pump_efficiency=\"95 %%\"");
    if (chance(m, 0.4)) put_margin(m, "margin", between(m, 0, 0.5));
    if (chance(m, 0.3)) put_pressure(m, "bump_margin", between(m, 200, 900));
    if (chance(m, 0.5)) put(m, " test=\"%s\"", tests[upto(m, 3)]);
    if (chance(m, 0.4)) put(m, " wait=\"%.0f h\"", between(m, 6, 36));
    if (chance(m, 0.3)) put(m, " thickening_time=\"%.1f h\"", between(m, 2.5, 8));
    if (chance(m, 0.3)) {
        draw(m, " wait_strength=\"500 psi\">\n    <strength time=\"%.0f h\"", 5, 20);
        draw(m, " value=\"%.0f psi\"/>\n", 100, 480);
        draw(m, "    <strength time=\"36 h\" value=\"%.0f psi\"/>\n  </cementing>\n", 600, 2500);
        return;
    }
    put(m, "/>\n");
}

/** Mud by a power law, by its figures or by readings. */
static void put_power_law(maker *m)
{
    has(m, FEATURE_RHEOLOGY);
    turn_aside(m);
    if (chance(m, 0.5)) {
        draw(m, "  <rheology mud_n=\"%.3f\"", 0.3, 0.95);
        draw(m, " mud_k=\"%.2f lbf/100ft2\"/>\n", 0.2, 4);
    } else {
        const double slow = to_step(between(m, 12, 70), 1);
        put(m, "  <rheology mud_300=\"%.0f\" mud_600=\"%.0f\"/>\n", slow,
            floor(slow * between(m, 1.25, 1.95)));
    }
    turn_aside(m);
}

static void put_running(maker *m)
{
    if (chance(m, 0.25)) {
        has(m, FEATURE_RHEOLOGY);
        draw(m, "  <rheology mud_pv=\"%.0f cP\"", 8, 40);
        draw(m, " mud_yp=\"%.0f lbf/100ft2\"", 3, 20);
        draw(m, " slurry_pv=\"%.0f cP\"/>\n", 20, 90);
    } else if (chance_aside(m, 0.2))
        put_power_law(m);
    if (chance(m, 0.4)) {
        has(m, FEATURE_RUNNING);
        put(m, "  <running");
        if (chance(m, 0.4)) put(m, " range=\"%d\"", 2 + upto(m, 1));
        if (chance(m, 0.4)) put(m, " spares=\"%.0f %%\"", between(m, 0, 10));
        if (chance(m, 0.4)) put(m, " track_joints=\"%d\"", upto(m, 3));
        if (chance(m, 0.4)) {
            draw(m, " friction_cased=\"%.2f\"", 0.1, 0.3);
            draw(m, " friction_open=\"%.2f\"", 0.2, 0.45);
        }
        if (chance(m, 0.3)) put(m, " blocks=\"%.0f klbf\"", between(m, 20, 70));
        if (chance(m, 0.3)) put(m, " rig_load=\"%.0f klbf\"", between(m, 400, 1200));
        if (chance(m, 0.3)) put(m, " overpull_on=\"air\"");
        if (chance(m, 0.3))
            put(m, " landing_weight=\"25.6 lb/ft\" landing_od=\"5 in\" landing_id=\"4 in\"");
        if (chance(m, 0.3)) put(m, " centralizer=\"rigid\"");
        put(m, "/>\n");
    }
    if (chance(m, 0.12)) {
        has(m, FEATURE_CALIPER);
        double md = m->td * between(m, 0.2, 0.6);
        put(m, "  <caliper>\n");
        for (int i = 0; i < 6; ++i, md += m->td * 0.04) {
            put(m, "    <reading");
            put_length(m, "md", md);
            put(m, " diameter=\"%.2f in\"/>\n", between(m, 18, 22));
        }
        put(m, "  </caliper>\n");
    }
}

static void put_money(maker *m)
{
    if (chance(m, 0.5)) {
        has(m, FEATURE_PRICES);
        draw(m, "  <prices currency=\"CU\">\n    <rig per_day=\"%.0f\"", 10000, 90000);
        draw(m, " services_per_day=\"%.0f\"/>\n", 0, 30000);
        if (chance(m, 0.7))
            put(m, "    <pipe grade=\"J55\" per_tonne=\"%.0f\"/>\n", between(m, 900, 1500));
        if (chance(m, 0.7))
            put(m, "    <pipe grade=\"P110\" per_tonne=\"%.0f\"/>\n", between(m, 2000, 3000));
        put(m, "    <pipe per_tonne=\"%.2f\"/>\n", between(m, 1500, 2600));
        if (chance(m, 0.5))
            put(m, "    <thread name=\"BTC\" per_joint=\"%.0f\"/>\n", between(m, 60, 150));
        draw(m, "    <thread per_joint=\"%.0f\"/>\n", 30, 80);
        draw(m, "    <liner hanger=\"%.0f\"", 30000, 90000);
        draw(m, " packer=\"%.0f\"", 10000, 50000);
        if (chance_aside(m, 0.7)) put(m, " receptacle=\"21500.25\"");
        put(m, "/>\n");
        draw(m, "    <wellhead per_stage=\"%.0f\"/>\n", 10000, 60000);
        draw(m, "    <cement per_tonne=\"%.0f\"/>\n", 150, 400);
        if (chance(m, 0.6))
            put(m, "    <bit up_to=\"12.25 in\" price=\"%.0f\"/>\n", between(m, 5000, 20000));
        put(m, "    <bit price=\"%.0f\"/>\n  </prices>\n", between(m, 15000, 40000));
    }
    if (chance(m, 0.35)) {
        has(m, FEATURE_TIMES);
        put(m, "  <times");
        if (chance(m, 0.5)) put_length(m, "trip_per_hour", between(m, 600, 1500));
        if (chance(m, 0.5)) put(m, " connection_minutes=\"%.0f\"", between(m, 3, 12));
        if (chance(m, 0.5)) put_length(m, "bit_run", between(m, 1500, 7000));
        if (chance(m, 0.5)) put(m, " crew_hours=\"%.1f\"", between(m, 2, 8));
        if (chance(m, 0.5)) put(m, " wait_hours=\"%.1f\"", between(m, 6, 30));
        if (chance(m, 0.5)) put(m, " reserve=\"%.0f %%\"", between(m, 0, 25));
        if (chance_aside(m, 0.5)) put(m, " hanger_hours=\"5.5\" lap_test_hours=\"3\"");
        if (chance_aside(m, 0.5)) put(m, " wellhead_hours=\"8\" test_hours=\"2.5\"");
        if (chance(m, 0.5))
            draw(m, "><drilling up_to=\"8.75 in\" per_hour=\"%.0f ft\"/>", 15, 60);
        else
            put(m, ">");
        put(m, "</times>\n");
    }
    if (chance(m, 0.2)) {
        has(m, FEATURE_WISHES);
        put(m, "  <wishes max_strings=\"%d\"/>\n", 3 + upto(m, 4));
    }
}

/* ---- pins ------------------------------------------------------------------------------------ */

static void put_pinned_cement(maker *m, bool surface)
{
    if (!m->lead[0] || !chance(m, 0.5)) {
        put(m, "/>\n");
        return;
    }
    has(m, FEATURE_PINNED_CEMENT);
    put(m, ">\n      <cement slurry=\"%s\"", m->lead);
    if (surface && chance(m, 0.5)) put_length(m, "top", m->ground);
    if (chance(m, 0.6)) put(m, " excess=\"%.0f %%\"", between(m, 0, 90));
    if (chance(m, 0.4)) put(m, " excess_on=\"annulus\"");
    put(m, "/>\n");
    if (chance(m, 0.6)) {
        put(m, "      <cement slurry=\"%s\"", m->tail);
        if (chance(m, 0.5)) put_length(m, "collar_above_shoe", between(m, 30, 90));
        put(m, "/>\n");
    }
    put(m, "    </string>\n");
}

/** The tie-back of a liner that is pinned, where the other stream wants one. */
static void put_tieback(maker *m, const char *role, const char *od)
{
    static const char *const grades[] = {"N80", "L80", "P110", "T95"};
    turn_aside(m);
    if (m->tying && chance(m, 0.75)) {
        has(m, FEATURE_TIEBACK);
        put(m, "    <string role=\"%s\" type=\"tieback\"", role);
        if (od && chance(m, 0.3)) put(m, " od=\"%s\"", od);
        if (chance(m, 0.15)) put(m, " grade=\"%s\"", grades[upto(m, 3)]);
        if (chance(m, 0.15)) put(m, " thread=\"BTC\"");
        if (chance(m, 0.15)) put(m, " wear=\"%.3f in\"", between(m, 0.01, 0.06));
        put(m, "/>\n");
    }
    turn_aside(m);
}

/** A liner where the first stream has put none. */
static void put_liner(maker *m, const char *role, const char *const *sizes, int most)
{
    if (!m->tying) return;
    turn_aside(m);
    has(m, FEATURE_PINNED_LINER);
    const char *od = chance(m, 0.4) ? sizes[upto(m, most)] : NULL;
    put(m, "    <string role=\"%s\" type=\"liner\"", role);
    if (od) put(m, " od=\"%s\"", od);
    if (chance(m, 0.15)) put(m, " wear=\"%.3f in\"", between(m, 0.01, 0.06));
    put(m, "/>\n");
    turn_aside(m);
    put_tieback(m, role, od);
}

static const char *const inner_liners[] = {"7.625 in", "9.625 in", "11.75 in"};
static const char *const last_liners[] = {"4.5 in", "5 in", "5.5 in", "7 in"};

/** Pins of the other stream in a well that the first has left without. */
static void put_pins_aside(maker *m)
{
    if (!m->tying) return;
    put(m, "  <pinned>\n");
    if (chance_aside(m, 0.5)) put_liner(m, "intermediate", inner_liners, 2);
    put_liner(m, "production", last_liners, 3);
    put(m, "  </pinned>\n");
}

static void put_pins(maker *m)
{
    static const double surface_od[] = {9.625, 10.75, 13.375, 13.375};
    m->tying = chance_aside(m, 0.35);
    if (!chance(m, 0.4)) {
        put_pins_aside(m);
        return;
    }
    has(m, FEATURE_PINS);
    double surface = m->conductor + between(m, 800, fmax(1000, m->td * 0.3));
    put(m, "  <pinned>\n");
    bool empty = true;
    if (chance(m, 0.3)) {
        empty = false;
        put(m, "    <string role=\"conductor\" od=\"%s\"/>\n", chance(m, 0.5) ? "20 in" : "24 in");
    }
    if (chance(m, 0.7)) {
        empty = false;
        put(m, "    <string role=\"surface\"");
        if (chance(m, 0.5) && surface < m->td * 0.8) {
            has(m, FEATURE_PINNED_SHOE);
            put_length(m, "shoe", surface);
        }
        if (chance(m, 0.3)) put_inches(m, "od", surface_od[upto(m, 3)]);
        if (chance(m, 0.3)) put(m, " grade=\"%s\"", chance(m, 0.5) ? "N80" : "L80");
        if (chance(m, 0.2)) put(m, " wear=\"0.03 in\"");
        put_pinned_cement(m, true);
    }
    if (chance(m, 0.35)) {
        empty = false;
        put(m, "    <string role=\"intermediate\"");
        if (chance(m, 0.5)) {
            has(m, FEATURE_PINNED_SHOE);
            put_length(m, "shoe", fmax(surface + 500, m->td * between(m, 0.5, 0.8)));
        }
        bool liner = chance(m, 0.3);
        if (liner) {
            has(m, FEATURE_PINNED_LINER);
            put(m, " type=\"liner\"");
        }
        bool sized = chance(m, 0.3);
        if (sized) put(m, " od=\"9.625 in\"");
        put_pinned_cement(m, false);
        if (liner) put_tieback(m, "intermediate", sized ? "9.625 in" : NULL);
    } else if (chance_aside(m, 0.3)) {
        put_liner(m, "intermediate", inner_liners, 2);
    }
    if (chance(m, 0.4) || empty) {
        put(m, "    <string role=\"production\"");
        bool sized = chance(m, 0.3);
        if (sized) put(m, " od=\"7 in\"");
        bool liner = chance(m, 0.5);
        if (liner) {
            has(m, FEATURE_PINNED_LINER);
            put(m, " type=\"liner\"");
        }
        if (chance(m, 0.3)) put(m, " thread=\"BTC\"");
        put_pinned_cement(m, false);
        if (liner) put_tieback(m, "production", sized ? "7 in" : NULL);
    } else {
        put_liner(m, "production", last_liners, 3);
    }
    put(m, "  </pinned>\n");
}

/* ---- liners ---------------------------------------------------------------------------------- */

/** A sheet of hangers: liner and the pipes it is set in, as the trade pairs them. */
static void put_hangers(maker *m)
{
    static const struct {
        double liner, bore;
        double casings[4];
    } pairs[] = {
        {4.5, 3.9, {7, 7.625, 0}},
        {5, 4.25, {7, 7.625, 0}},
        {5.5, 4.75, {7.625, 8.625, 9.625, 0}},
        {7, 6.15, {9.625, 10.75, 0}},
        {7.625, 6.7, {9.625, 10.75, 11.75, 0}},
        {8.625, 7.7, {10.75, 11.75, 13.375, 0}},
        {9.625, 8.6, {11.75, 13.375, 0}},
        {10.75, 9.7, {13.375, 16, 0}},
        {11.75, 10.7, {13.375, 16, 0}},
        {13.375, 12.3, {16, 18.625, 20, 0}},
        {16, 14.9, {18.625, 20, 0}},
    };
    if (!chance(m, 0.45)) return;
    has(m, FEATURE_HANGERS);
    put(m, "  <liner_hangers");
    if (chance(m, 0.5)) put(m, " factor=\"%.2f\"", between(m, 1, 1.6));
    put(m, ">\n");
    double kept = between(m, 0.6, 1.1), strong = between(m, 90, 500);
    size_t rows = 0;
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; ++i)
        for (size_t k = 0; pairs[i].casings[k] > 0; ++k)
            for (int twice = upto(m, 3) == 0; twice >= 0; --twice) {
                double liner = pairs[i].liner;
                if (rows > 0 && !chance(m, kept)) continue;
                ++rows;
                put(m, "    <hanger");
                put_inches(m, "liner", liner);
                put_inches(m, "casing", pairs[i].casings[k]);
                double light = pairs[i].casings[k] * between(m, 2, 5.5);
                if (chance(m, 0.2)) put(m, " lightest=\"%.1f lb/ft\"", light);
                if (chance(m, 0.2)) put(m, " heaviest=\"%.1f lb/ft\"", light + between(m, 3, 30));
                put(m, " capacity=\"%.0f klbf\"", liner / 7 * strong * between(m, 0.7, 2));
                double bore = pairs[i].bore * between(m, 0.93, 1.03);
                put(m, " bore=\"%.3f in\"", bore);
                if (chance(m, 0.3))
                    put(m, " receptacle_bore=\"%.3f in\"", bore + between(m, -0.2, 1));
                put(m, "/>\n");
            }
    put(m, "  </liner_hangers>\n");
}

static void put_liner_test(maker *m)
{
    if (!chance(m, 0.5)) return;
    has(m, FEATURE_LINER_TEST);
    bool by_fracture = chance(m, 0.5);
    put(m, "  <liner_top_test by=\"%s\"", by_fracture ? "fracture" : "pressure");
    if (!by_fracture) put_pressure(m, "pressure", between(m, 300, 3500));
    if (by_fracture && chance(m, 0.5)) put_pressure(m, "above", between(m, 0, 900));
    if (chance(m, 0.4)) put_density(m, "fluid", between(m, 8.4, 10.5));
    put(m, "/>\n");
}

/** Half of the wells stand on customs of practice, some with a regulation over them. */
static const char *choose_basis(maker *m)
{
    static const char *const customs[] = {
        "land",         "land",       "land",       "shelf",          "shelf",
        "deepwater",    "geothermal", "land texas", "land louisiana", "shelf us-ocs",
        "shelf norway", "bare texas", "bare us-ocs"};
    turn_aside(m);
    bool based = chance(m, 0.5);
    const char *basis = customs[upto(m, 12)];
    turn_aside(m);
    if (!based) return "bare";
    m->based = strncmp(basis, "bare", 4) != 0;
    has(m, strncmp(basis, "shelf", 5) == 0 ? FEATURE_SHELF
           : m->based                      ? FEATURE_LAND
                                           : FEATURE_RULED);
    if (strchr(basis, ' ')) has(m, FEATURE_RULED);
    return basis;
}

char *random_well(uint64_t seed, uint64_t number, uint64_t *features)
{
    maker m = {.state = seed * 0xd1342543de82ef95u + number * 0x2545f4914f6cdd1du + 1};
    m.beside = m.state ^ 0x5bf0a8b1457695adu;
    m.level = m.state ^ 0x2127599bf4325c37u;
    (void)roll(&m);
    put(&m,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- Invented: made by "
        "tests/selfcheck. -->\n<well xmlns=\"urn:drawtube:well:1\" basis=\"%s\" name=\"Random "
        "%llu of %llu "
        "(invented)\">\n",
        choose_basis(&m), (unsigned long long)number, (unsigned long long)seed);
    put_place(&m);
    put_path(&m);
    put_pressures(&m);
    put_margins(&m);
    put_conductor(&m);
    put_rock(&m);
    put_seats(&m);
    put_design(&m);
    put_sizes(&m);
    put_heat(&m);
    put_loads(&m);
    put_wellhead(&m);
    put_kick(&m);
    put_slurries(&m);
    put_pins(&m);
    put_cementing(&m);
    put_running(&m);
    put_money(&m);
    turn_aside(&m);
    put_hangers(&m);
    put_liner_test(&m);
    turn_aside(&m);
    put(&m, "</well>\n");
    if (m.failed) {
        free(m.text);
        return NULL;
    }
    *features = m.features;
    return m.text;
}
