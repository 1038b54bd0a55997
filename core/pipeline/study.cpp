// SPDX-License-Identifier: MIT
#include "core/pipeline/study.h"

#include "core/content/piece_outline.h"
#include "core/geometry/width.h"
#include "core/rules/narrow.h"

#include <algorithm>

namespace touchmark::pipeline {
namespace {

constexpr double measured_at = 10; // mm of cap height

/// A text's letters with the widths of each, at a cap height of 10 mm.
struct Measured {
    content::Drawn drawn;
    struct Letter {
        Box2 box;
        geometry::Widths widths;
    };
    std::vector<Letter> letters;
};

Result<Measured> measured(const std::string& letters, const std::string& family, int weight,
                          const content::FontLibrary& fonts) {
    content::Text text;
    text.text = letters;
    text.family = family;
    text.weight = weight;
    text.cap_height = Mm(measured_at);
    text.letter_spacing = Mm(2);
    Result<content::Drawn> drawn = content::draw(text, fonts);
    if (!drawn) return std::unexpected(drawn.error());
    Measured out{*std::move(drawn), {}};
    for (const content::Piece& piece : out.drawn.pieces) {
        if (piece.region_count == 0) continue;
        Measured::Letter& letter = out.letters.emplace_back();
        letter.box = piece.extent;
        letter.widths = geometry::widths(content::outline_of(out.drawn, piece));
    }
    return out;
}

Box2 scaled(const Box2& box, double factor) {
    return {box.low * factor, box.high * factor};
}

/// What the two rules say of a letter at a height.
struct Quick {
    const process::Limit *stroke, *gap;
    std::optional<Vec2> up; ///< on a wall the letters stand upright
    double layer_mm;

    [[nodiscard]] bool will_not_print(const Measured::Letter& letter, double height) const {
        return below(letter, height, rules::lost_share, rules::closed_share);
    }
    [[nodiscard]] bool will_not_read(const Measured::Letter& letter, double height) const {
        return below(letter, height, rules::unread_share, rules::dim_share);
    }

private:
    [[nodiscard]] bool below(const Measured::Letter& letter, double height, double strokes, double gaps) const {
        const double scale = measured_at / height; // what was measured is so much larger
        const rules::Layering layering{up, layer_mm * scale};
        const auto share = [&](const std::vector<geometry::Stretch>& of, const process::Limit* limit) {
            return limit ? rules::narrow_share(of, letter.widths.stroke_stretches, limit->hard.value * scale, layering)
                         : 0;
        };
        return share(letter.widths.stroke_stretches, stroke) >= strokes ||
               share(letter.widths.gap_stretches, gap) >= gaps;
    }
};

Result<StudyCase> one_case(const Measured& face, StudyCase out, const StudyOptions& options,
                           const process::Process& process, const Progress& progress) {
    const double factor = out.cap_height / measured_at;
    print::Standing standing{.mode = out.mode, .zone = out.zone, .depth = options.depth};
    const auto printed = print::simulate(geometry::transformed(face.drawn.outline, geometry::Affine::scale(factor)),
                                         standing, process, progress);
    if (!printed) return std::unexpected(printed.error());
    std::vector<Box2> boxes;
    for (const Measured::Letter& letter : face.letters)
        boxes.push_back(scaled(letter.box, factor));
    const std::vector<print::Fidelity> figures =
        print::fidelity_of(*printed, boxes, out.mode == Mode::hidden ? print::void_came_out : print::relief_came_out);
    const Quick quick{process.limit("stroke_width", out.mode, out.zone), process.limit("gap_width", out.mode, out.zone),
                      out.zone == Zone::side_wall ? std::optional(Vec2{0, 1}) : std::nullopt,
                      process.layer_height_mm.value};
    for (std::size_t i = 0; i < figures.size(); ++i) {
        const double figure = figures[i].figure();
        out.mean_figure += figure / static_cast<double>(figures.size());
        out.will_not_print.add(quick.will_not_print(face.letters[i], out.cap_height), figure < print::lost_below);
        out.will_not_read.add(quick.will_not_read(face.letters[i], out.cap_height), figure < print::reads_from);
    }
    return out;
}

} // namespace

void Agreement::add(bool rule, bool print) {
    ++(rule && print ? both : rule ? only_rule : print ? only_print : neither);
}

double Agreement::precision() const {
    return both + only_rule > 0 ? static_cast<double>(both) / (both + only_rule) : 1;
}

double Agreement::recall() const {
    return both + only_print > 0 ? static_cast<double>(both) / (both + only_print) : 1;
}

Agreement& Agreement::operator+=(const Agreement& other) {
    both += other.both;
    only_rule += other.only_rule;
    only_print += other.only_print;
    neither += other.neither;
    return *this;
}

Result<std::vector<StudyCase>> study(const StudyOptions& options, const content::FontLibrary& fonts,
                                     std::span<const process::Process> processes, const Progress& progress) {
    std::vector<StudyCase> out;
    for (std::size_t i = 0; i < options.faces.size(); ++i) {
        const auto& [family, weight] = options.faces[i];
        progress.report(static_cast<double>(i) / static_cast<double>(options.faces.size()), "Printing " + family);
        const Result<Measured> face = measured(options.letters, family, weight, fonts);
        if (!face) return std::unexpected(face.error());
        for (const process::Process& process : processes) {
            if (!process.printing) continue;
            for (const double height : options.heights)
                for (const Mode mode : options.modes)
                    for (const Zone zone : options.zones) {
                        StudyCase next{process.id, family, weight, height, mode, zone, {}, {}, 0};
                        Result<StudyCase> judged = one_case(*face, std::move(next), options, process, progress);
                        if (!judged) return std::unexpected(judged.error());
                        out.push_back(*std::move(judged));
                    }
        }
    }
    return out;
}

} // namespace touchmark::pipeline
