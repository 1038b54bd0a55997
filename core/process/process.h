// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/digest.h"
#include "core/base/result.h"
#include "core/base/units.h"
#include "core/base/words.h"

#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::process {

/// A figure with where it comes from: "common practice, no source", a published text, "from memory", "assumed".
struct Sourced {
    double value = 0;
    std::string source;
    bool assumed = false; ///< a planning figure, not published or measured
};

/// A limit that a profile may give. `least`: the figure must not be smaller; otherwise it must not be larger.
struct LimitKey {
    std::string_view key;
    std::string_view what; ///< what is limited, for people
    bool least = true;
    std::string_view unit = "mm"; ///< empty: a plain figure
};
/// Add new limits here. A profile gives each of these for every mode and zone (a test checks the profiles that come
/// along).
inline constexpr LimitKey limit_keys[] = {
    {"stroke_width", "width of a stroke", true},
    {"gap_width", "width of the gap between strokes", true},
    {"depth_min", "least depth of a cut, least height of raised lettering", true},
    {"depth_max", "greatest depth of a cut, greatest height of raised lettering", false},
    {"cover_min", "least material over a hidden mark", true},
    {"cover_max", "most material over a hidden mark that light comes through", false},
    {"contrast", "contrast of a hidden mark against a light, (bright − dark) / (bright + dark)", true, ""},
    {"light", "share of a light that comes through the wall beside a hidden mark", true, ""},
    {"edge_margin", "distance from the mark to the edge of its face", true},
    {"remaining_wall", "material left behind a cut", true},
    {"bridge_width", "width of what holds a counter in a mark that is cut through", true},
    {"mark_gap", "distance between two marks", true},
    {"stretch", "how far lengths on a bent face depart from the mark's", false, "%"},
    {"suitability", "how well the zone takes the mark, 1 best … 0 avoid", true, ""},
    {"island_area", "area of an island of one layer", true, "mm²"},
    {"code_module", "module of a code", true, "lines"},
    // Of what prints but may not serve: beyond the hard figure it is at risk, short of the comfortable one there is
    // advice.
    {"islands", "islands of one layer, each a travel and a retraction", false, ""},
    {"layer_remainder", "how far a depth is off a whole number of layers", false, "layers"},
    {"step_width", "width of a layer's step on a slope, as a share of a stroke", false, ""},
    {"step_height", "height of a layer's step on a slope, as a share of the depth", false, ""},
    {"ledge", "how far the underside of a raised mark juts out in one layer", false},
    {"wrap_angle", "how far the end of a mark turns away from its middle", false, "deg"},
    {"code_wrap", "width of a code on a bent face, as a share of the diameter", false, "%"},
    {"module_error", "how far whole layers leave a module off its size", false, "%"},
    {"relief_matrix", "depth of a Data Matrix of one colour, as a share of its module", true, ""},
    {"relief_qr", "depth of a QR code of one colour, as a share of its module", true, ""},
    {"distinct", "width of what tells two characters apart", true},
    {"reading_angle", "angle that a capital fills at the reading distance", true, "arcmin"},
    {"upright", "how far lettering is turned from upright as the part stands", false, "deg"},
    {"wall_share", "how much of the wall a cut takes away", false, "%"},
    {"floor_radius", "radius between wall and floor of a cut in a load-bearing face", true},
    {"clear_distance", "distance from a mark to a face that is kept clear", true},
};

/// A limit of a rule, as narrow as the process knows it.
struct Limit {
    std::string key;          ///< one of limit_keys
    std::optional<Mode> mode; ///< applies to every mode when empty
    std::optional<Zone> zone; ///< applies to every zone when empty
    Sourced hard;             ///< beyond it: will not print (blocker), or at risk, see limit_keys
    Sourced comfortable;      ///< between hard and comfortable: at risk; from here on: clean
    std::string unit = "mm";
};

/// Angles of the outward normal to straight up that part the zones, degrees, ascending: top 0…a, slope a…b, side wall
/// b…c, overhang beyond. Past `overhang_up_to` a face looks straight down: bottom where it touches the plate, overhang
/// where it does not; see plate::zone_of.
struct ZoneLimits {
    Sourced top_up_to, slope_up_to, side_wall_up_to, overhang_up_to;
};

/// How well a zone takes a mark in a mode: 1 best … 0 avoid, with the reason in words for the legend.
struct Suitability {
    Zone zone = Zone::side_wall;
    Mode mode = Mode::engrave;
    Sourced figure;
    std::string reason;
};

/// One step of a printed wedge that a shop has held against a light.
struct WedgeStep {
    double thickness_mm = 0;
    double log_transmission = 0; ///< decadic logarithm of the share of light that came through, ≤ 0
};

/// What the simulated print of an extrusion process goes by. Nearly all of it is assumed until a shop fits it from a
/// test strip of its own.
struct Printing {
    Sourced bead_spread_mm;        ///< a line is so much wider than planned, on each side
    Sourced smoothing;             ///< standard deviation of what a corner of the path is rounded by, in nozzles
    Sourced first_layer_spread_mm; ///< as bead_spread_mm, on the plate
    Sourced least_line_mm;         ///< a narrower stroke of material is left out
    Sourced least_island_mm2;      ///< a smaller island on the plate comes off
    Sourced supported;             ///< share of a line's width that may hang over the layer below
    Sourced ledge_sag;             ///< how far an unsupported line at the end of a ledge sags, in layers
    Sourced bridge_sag;            ///< mm that a line sags in the middle, a mm of what it spans
    Sourced ripple;                ///< depth of the groove between two layers, in layers
    Sourced speed_mm_s, travel_mm_s, retraction_s, least_layer_s;
    Sourced attenuation_per_mm; ///< of light in the material: ln 10 × optical density a mm
    Sourced
        scatter; ///< standard deviation of the blur under a skin that is lit from behind, in thicknesses of the skin
    /// By thickness, ascending; the thicker the darker. Empty or at least two: a step wedge of the shop's own material.
    std::vector<WedgeStep> wedge;
    std::string wedge_source;

    /// Every figure with its key in the file and its unit.
    struct Row {
        std::string_view key, unit;
        Sourced Printing::* figure;
        double least, most;
    };
    [[nodiscard]] static std::span<const Row> rows();
};

/// A process profile: one file in resources/processes. A value.
struct Process {
    std::string id;    ///< the file's stem: "fff-0.4"
    std::string title; ///< "Extrusion, 0.4 mm nozzle"
    Sourced nozzle_mm, line_width_mm, layer_height_mm, first_layer_mm;
    std::string material;
    std::optional<Printing> printing; ///< absent: marks are judged by the limits alone
    ZoneLimits zones;
    std::vector<Suitability> suitability;
    std::vector<Limit> limits;

    /// The most specific entry: mode and zone, then zone, then mode, then neither. nullptr when the process says
    /// nothing.
    [[nodiscard]] const Limit* limit(std::string_view key, Mode mode, Zone zone) const;
    [[nodiscard]] const Suitability* suitability_of(Mode mode, Zone zone) const;
};

/// Strict: every figure with its unit and source, no unknown or missing key, hard and comfortable in order, each mode
/// and zone rated once. Errors: "process.malformed" (names the line or the key), "process.unit",
/// "process.newer_version", file errors.
[[nodiscard]] Result<Process> parse_process(std::string_view json, std::string id);
[[nodiscard]] Result<Process> load_process(const std::filesystem::path& file);
/// All *.json of a folder, by nozzle then title. A malformed file is an error, not silence.
[[nodiscard]] Result<std::vector<Process>> load_processes(const std::filesystem::path& folder);

void add(Digester& digester, const Process& process);

} // namespace touchmark::process
