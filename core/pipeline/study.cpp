// SPDX-License-Identifier: MIT
#include "core/pipeline/study.h"

#include "core/content/piece_outline.h"
#include "core/geometry/width.h"

#include <algorithm>

namespace touchmark::pipeline {
namespace {

/// A text's letters with the narrowest stroke and gap of each, mm at a cap height of 1 mm.
struct Measured {
    content::Drawn drawn;
    struct Letter {
        Box2 box;
        double stroke = 1e9, gap = 1e9;
    };
    std::vector<Letter> letters;
};

Result<Measured> measured(const std::string& letters, const std::string& family, int weight,
                          const content::FontLibrary& fonts) {
    content::Text text;
    text.text = letters;
    text.family = family;
    text.weight = weight;
    text.cap_height = Mm(10);
    text.letter_spacing = Mm(2);
    Result<content::Drawn> drawn = content::draw(text, fonts);
    if (!drawn) return std::unexpected(drawn.error());
    Measured out{*std::move(drawn), {}};
    for (const content::Piece& piece : out.drawn.pieces) {
        if (piece.region_count == 0) continue;
        Measured::Letter& letter = out.letters.emplace_back();
        letter.box = piece.extent;
        const geometry::Widths widths = geometry::widths(content::outline_of(out.drawn, piece));
        if (!widths.strokes.empty()) letter.stroke = widths.strokes.front().width / 10;
        if (!widths.gaps.empty()) letter.gap = widths.gaps.front().width / 10;
    }
    return out;
}

Box2 scaled(const Box2& box, double factor) {
    return {box.low * factor, box.high * factor};
}

/// What the two rules say of a letter at a height.
struct Quick {
    const process::Limit *stroke, *gap;

    [[nodiscard]] bool will_not_print(const Measured::Letter& letter, double height) const {
        return below(letter, height, &process::Limit::hard);
    }
    [[nodiscard]] bool will_not_read(const Measured::Letter& letter, double height) const {
        return below(letter, height, &process::Limit::comfortable);
    }

private:
    [[nodiscard]] bool below(const Measured::Letter& letter, double height,
                             process::Sourced process::Limit::* figure) const {
        return (stroke && letter.stroke * height < (stroke->*figure).value) ||
               (gap && letter.gap * height < (gap->*figure).value);
    }
};

Result<StudyCase> one_case(const Measured& face, StudyCase out, const StudyOptions& options,
                           const process::Process& process, const Progress& progress) {
    const double factor = out.cap_height / 10;
    print::Standing standing{.mode = out.mode, .zone = out.zone, .depth = options.depth};
    const auto printed = print::simulate(geometry::transformed(face.drawn.outline, geometry::Affine::scale(factor)),
                                         standing, process, progress);
    if (!printed) return std::unexpected(printed.error());
    std::vector<Box2> boxes;
    for (const Measured::Letter& letter : face.letters)
        boxes.push_back(scaled(letter.box, factor));
    const std::vector<print::Fidelity> figures = print::fidelity_of(*printed, boxes);
    const Quick quick{process.limit("stroke_width", out.mode, out.zone),
                      process.limit("gap_width", out.mode, out.zone)};
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
