// SPDX-License-Identifier: MIT
#include "core/content/shaping.h"

#include <fribidi.h>

#include <algorithm>
#include <memory>
#include <span>

namespace touchmark::content {
namespace {

struct Run {
    std::size_t begin = 0, end = 0;
    FriBidiLevel level = 0;
    hb_script_t script = HB_SCRIPT_COMMON;

    [[nodiscard]] bool right_to_left() const { return level % 2 == 1; }
};

std::vector<FriBidiLevel> levels_of(std::u32string_view line) {
    const auto length = static_cast<FriBidiStrIndex>(line.size());
    const std::vector<FriBidiChar> characters(line.begin(), line.end());
    std::vector<FriBidiCharType> types(line.size());
    std::vector<FriBidiBracketType> brackets(line.size());
    std::vector<FriBidiLevel> levels(line.size());
    fribidi_get_bidi_types(characters.data(), length, types.data());
    fribidi_get_bracket_types(characters.data(), length, types.data(), brackets.data());
    FriBidiParType direction = FRIBIDI_PAR_ON; // by the first strong character
    if (fribidi_get_par_embedding_levels_ex(types.data(), brackets.data(), length, &direction, levels.data()) == 0)
        std::ranges::fill(levels, FriBidiLevel{0});
    return levels;
}

/// Common and inherited characters take the script before them, at the start the first real one (Unicode Standard Annex
/// 24, 5.2).
std::vector<hb_script_t> scripts_of(std::u32string_view line) {
    hb_unicode_funcs_t* unicode = hb_unicode_funcs_get_default();
    std::vector<hb_script_t> scripts(line.size());
    std::ranges::transform(line, scripts.begin(), [&](char32_t c) { return hb_unicode_script(unicode, c); });
    const auto weak = [](hb_script_t script) {
        return script == HB_SCRIPT_COMMON || script == HB_SCRIPT_INHERITED || script == HB_SCRIPT_UNKNOWN;
    };
    const auto strong = std::ranges::find_if_not(scripts, weak);
    hb_script_t current = strong == scripts.end() ? HB_SCRIPT_LATIN : *strong;
    for (hb_script_t& script : scripts) {
        if (weak(script)) script = current;
        current = script;
    }
    return scripts;
}

/// Runs in logical order, then reordered to visual order (Unicode Standard Annex 9, rule L2).
std::vector<Run> visual_runs(std::u32string_view line) {
    const auto levels = levels_of(line);
    const auto scripts = scripts_of(line);
    std::vector<Run> runs;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (runs.empty() || runs.back().level != levels[i] || runs.back().script != scripts[i])
            runs.push_back({i, i, levels[i], scripts[i]});
        runs.back().end = i + 1;
    }
    FriBidiLevel highest = 0;
    for (const Run& run : runs)
        highest = std::max(highest, run.level);
    for (FriBidiLevel level = highest; level > 0; --level)
        for (auto begin = runs.begin(); begin != runs.end();) {
            const auto first = std::find_if(begin, runs.end(), [&](const Run& run) { return run.level >= level; });
            const auto last = std::find_if(first, runs.end(), [&](const Run& run) { return run.level < level; });
            std::reverse(first, last);
            begin = last;
        }
    return runs;
}

bool cursive(hb_script_t script) {
    switch (script) {
    case HB_SCRIPT_ARABIC:
    case HB_SCRIPT_SYRIAC:
    case HB_SCRIPT_MONGOLIAN:
    case HB_SCRIPT_NKO:
    case HB_SCRIPT_MANDAIC:
    case HB_SCRIPT_PHAGS_PA:
        return true;
    default:
        return false;
    }
}

using Buffer = std::unique_ptr<hb_buffer_t, decltype(&hb_buffer_destroy)>;

Buffer shaped(std::u32string_view line, const Run& run, const LoadedFace& face,
              std::span<const hb_feature_t> features) {
    Buffer buffer(hb_buffer_create(), hb_buffer_destroy);
    // The whole line is handed over, so that letters join across the run's ends as they should.
    hb_buffer_add_utf32(buffer.get(), reinterpret_cast<const std::uint32_t*>(line.data()),
                        static_cast<int>(line.size()), static_cast<unsigned>(run.begin),
                        static_cast<int>(run.end - run.begin));
    hb_buffer_set_direction(buffer.get(), run.right_to_left() ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
    hb_buffer_set_script(buffer.get(), run.script);
    hb_buffer_set_language(buffer.get(), hb_language_from_string("und", -1));
    hb_shape(face.shaping_font(), buffer.get(), features.data(), static_cast<unsigned>(features.size()));
    return buffer;
}

/// Where each cluster of a run starts in the text, ascending, and where the run ends.
std::vector<std::uint32_t> cluster_bounds(std::span<const hb_glyph_info_t> glyphs, std::size_t run_end) {
    std::vector<std::uint32_t> bounds;
    for (const hb_glyph_info_t& glyph : glyphs)
        bounds.push_back(glyph.cluster);
    bounds.push_back(static_cast<std::uint32_t>(run_end));
    std::ranges::sort(bounds);
    return bounds;
}

/// Joiners, direction marks, variation selectors: they say how to draw others and have no shape themselves.
bool is_invisible(char32_t c) {
    if (hb_unicode_general_category(hb_unicode_funcs_get_default(), c) == HB_UNICODE_GENERAL_CATEGORY_FORMAT)
        return true;
    return (c >= 0xfe00 && c <= 0xfe0f) || (c >= 0xe0100 && c <= 0xe01ef) || (c >= 0x180b && c <= 0x180f);
}

/// The characters of a cluster that the face has no glyph for.
std::u32string lacking(std::u32string_view characters, const LoadedFace& face) {
    std::u32string out;
    for (const char32_t c : characters)
        if (!is_invisible(c) && !face.has(c)) out += c;
    return out;
}

void append_run(ShapedLine& out, std::u32string_view line, const Run& run, const LoadedFace& face,
                double letter_spacing, std::span<const hb_feature_t> features,
                std::vector<std::pair<std::size_t, std::u32string>>& missing) {
    const Buffer buffer = shaped(line, run, face, features);
    unsigned count = 0;
    const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(buffer.get(), &count);
    const hb_glyph_position_t* positions = hb_buffer_get_glyph_positions(buffer.get(), &count);
    const std::span glyphs(infos, count);
    const std::vector<std::uint32_t> bounds = cluster_bounds(glyphs, run.end);
    for (std::size_t i = 0; i < count;) {
        const std::uint32_t id = glyphs[i].cluster;
        std::size_t next = i;
        while (next < count && glyphs[next].cluster == id)
            ++next;
        Cluster cluster;
        cluster.first = id;
        cluster.characters = line.substr(id, *std::ranges::upper_bound(bounds, id) - id);
        const bool complete = std::none_of(glyphs.begin() + static_cast<std::ptrdiff_t>(i),
                                           glyphs.begin() + static_cast<std::ptrdiff_t>(next),
                                           [](const hb_glyph_info_t& glyph) { return glyph.codepoint == 0; });
        if (!complete) {
            const std::u32string lost = lacking(cluster.characters, face);
            missing.emplace_back(id, lost.empty() ? cluster.characters : lost);
            // A letter whose accent is missing stays.
            if (lost.empty() || std::ranges::all_of(cluster.characters, [&](char32_t c) {
                    return is_invisible(c) || lost.find(c) != lost.npos;
                })) {
                i = next;
                continue;
            }
        }
        for (; i < next; ++i) {
            if (glyphs[i].codepoint == 0) continue;
            cluster.glyphs.push_back(
                {glyphs[i].codepoint, out.advance + positions[i].x_offset, static_cast<double>(positions[i].y_offset)});
            out.advance += positions[i].x_advance;
        }
        out.clusters.push_back(std::move(cluster));
        if (!(cursive(run.script) && next < count)) out.advance += letter_spacing;
    }
}

} // namespace

ShapedLine shape_line(std::u32string_view line, const LoadedFace& face, double letter_spacing,
                      std::span<const hb_feature_t> features) {
    ShapedLine out;
    std::vector<std::pair<std::size_t, std::u32string>> missing;
    for (const Run& run : visual_runs(line))
        append_run(out, line, run, face, letter_spacing, features, missing);
    std::ranges::sort(missing);
    for (const auto& [at, characters] : missing)
        out.missing += characters;
    if (!out.clusters.empty()) out.advance -= letter_spacing;
    return out;
}

} // namespace touchmark::content
