// SPDX-License-Identifier: MIT
#include "core/pipeline/printing.h"

#include "core/content/code.h"
#include "core/content/variables.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::pipeline {

PrintedMark::Verdict PrintedMark::verdict() const {
    if (modules) {
        if (modules->share() > bearable_share) return Verdict::lost;
        if (2 * modules->share() > bearable_share) return Verdict::at_risk;
    }
    const PrintedPiece* piece = worst();
    if (!piece || piece->fidelity.figure() >= print::reads_from) return Verdict::reads;
    return piece->fidelity.figure() < print::lost_below ? Verdict::lost : Verdict::at_risk;
}

const PrintedPiece* PrintedMark::worst() const {
    const auto at =
        std::ranges::min_element(pieces, {}, [](const PrintedPiece& piece) { return piece.fidelity.figure(); });
    return at == pieces.end() ? nullptr : &*at;
}

std::string_view key_of(PrintedMark::Verdict verdict) {
    switch (verdict) {
    case PrintedMark::Verdict::reads:
        return "reads";
    case PrintedMark::Verdict::at_risk:
        return "at_risk";
    case PrintedMark::Verdict::lost:
        return "lost";
    }
    return "lost";
}

print::Standing standing_of(const Evaluation& evaluation, std::size_t index, const process::Process& process) {
    const MarkEvaluation& own = evaluation.marks[index];
    const job::Mark& mark = evaluation.job.marks[index];
    const surface::FaceMap& map = *own.map;
    const Vec2 at = mark.anchor.at;
    const Vec3 normal = map.normal(at), x = map.x_direction(at), up = evaluation.placement.back({0, 0, 1});
    const Vec2 on_face{dot(up, x), dot(up, cross(normal, x))};
    print::Standing standing;
    standing.mode = mark.mode;
    standing.zone = own.zone;
    standing.depth = own.wall_mm ? Mm(*own.wall_mm) : mark.depth;
    standing.incline = Degrees(std::acos(std::clamp(dot(normal, up), -1.0, 1.0)) * 180 / std::numbers::pi);
    const double steep = length(on_face); // the sine of the incline
    if (steep < 1e-6) return standing;
    standing.up = geometry::Affine::rotation(-mark.anchor.turn.radians())(on_face * (1 / steep));
    const double height = evaluation.placement(map.point(at)).z;
    standing.first_layer_at = Mm((process.first_layer_mm.value - height) / steep);
    return standing;
}

Result<PrintedMark> print_mark(const Evaluation& evaluation, std::size_t index, const process::Process& process,
                               const Progress& progress) {
    const MarkEvaluation& own = evaluation.marks[index];
    if (!own.drawn || !own.map)
        return fail("pipeline.not_drawn", "The mark \"" + own.mark + "\" has no outline or no face to print it on.",
                    "See its findings.");
    PrintedMark out;
    auto printed = print::simulate(own.drawn->outline, standing_of(evaluation, index, process), process, progress);
    if (!printed) return std::unexpected(printed.error());
    out.printed = *std::move(printed);

    const auto content = content::expanded(evaluation.job.marks[index].content, evaluation.job.variables, {});
    if (!content) return std::unexpected(content.error());
    const auto* code = std::get_if<content::Code>(&*content);
    std::vector<Box2> boxes;
    for (std::size_t i = code ? 1 : 0; i < own.drawn->pieces.size(); ++i)
        if (const content::Piece& piece = own.drawn->pieces[i]; piece.region_count > 0) {
            out.pieces.push_back({piece.label, {}});
            boxes.push_back(piece.extent);
        }
    const std::vector<print::Fidelity> figures = print::fidelity_of(out.printed, boxes);
    for (std::size_t i = 0; i < figures.size(); ++i)
        out.pieces[i].fidelity = figures[i];
    if (code) {
        const auto modules = content::marked_modules(*code, *own.drawn);
        if (!modules) return std::unexpected(modules.error());
        out.modules = print::count_modules(out.printed, modules->grid, modules->size, modules->centre);
        out.bearable_share = print::bearable_share(code->symbology, code->level);
    }
    return out;
}

} // namespace touchmark::pipeline
