// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <cmath>

namespace touchmark::rules {
namespace {

/// Whether the layers run alongside the face: over the mark's extent it rises by less than half a layer.
bool lies_level(const Context& context, const MarkView& view) {
    if (!view.drawn || !view.map || view.map->kind() != part::FaceKind::plane) return false;
    const double extent = std::hypot(view.drawn->extent.width(), view.drawn->extent.height());
    const double slope = std::sqrt(std::max(0.0, 1 - view.up * view.up));
    return extent * slope < context.process.layer_height_mm.value / 2;
}

/// How a length counted in layers comes out.
struct Layers {
    double first = 0, other = 0; ///< mm; first: where it is counted from the plate

    [[nodiscard]] double count(double mm) const { return mm < first ? mm / first : 1 + (mm - first) / other; }
    [[nodiscard]] double length(double count) const { return first + (count - 1) * other; }
};

/// What lies on the plate begins with the first layer.
Layers layers_of(const Context& context, bool from_the_plate) {
    const double other = context.process.layer_height_mm.value;
    return {from_the_plate ? context.process.first_layer_mm.value : other, other};
}

struct Length {
    std::string_view key, name; ///< "depth", "Depth"
    double mm = 0;
    Layers layers;
};

Length depth_of(const Context& context, const MarkView& view) {
    const Mode mode = view.mark->mode;
    const bool from_plate = view.zone == Zone::bottom && cuts_in(mode);
    const std::string_view name = mode == Mode::raise    ? "Height off the face"
                                  : mode == Mode::hidden ? "Height of the void"
                                                         : "Depth";
    return {"depth", name, view.mark->depth.value, layers_of(context, from_plate)};
}

Length cover_of(const Context& context, const MarkView& view) {
    return {"cover", "Cover", view.mark->cover.value, layers_of(context, view.zone == Zone::bottom)};
}

std::vector<Finding> assess(const Context& context, const MarkView& view, const Length& length) {
    const process::Limit* limit = context.process.limit("layer_remainder", view.mark->mode, view.zone);
    if (!limit || view.mark->mode == Mode::through || !lies_level(context, view)) return {};
    if (view.mark->mode == Mode::raise && view.zone == Zone::bottom) return {}; // the part would stand on it
    const double count = length.layers.count(length.mm);
    const double off = std::abs(count - std::max(1.0, std::round(count)));
    if (!at_most(off, *limit)) return {};
    Finding finding = finding_of("whole_layers", view, Severity::warning);
    set_figures(finding, off, *limit);
    const double less = std::floor(count), more = std::ceil(count);
    finding.message = std::string(length.name) + ": " + text_of(Mm(length.mm)) + " is " + short_number(count) +
                      " layers; what is printed is " +
                      (less >= 1 ? text_of(Mm(length.layers.length(less))) + " or " : std::string()) +
                      text_of(Mm(length.layers.length(more))) + ".";
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

std::vector<Finding> assess_depth(const Context& context, const MarkView& view, std::size_t) {
    return assess(context, view, depth_of(context, view));
}
std::vector<Finding> assess_cover(const Context& context, const MarkView& view, std::size_t) {
    if (view.mark->mode != Mode::hidden) return {};
    return assess(context, view, cover_of(context, view));
}

/// The nearest whole number of layers, the other where that one does not do.
void offer_whole(const Fixer& fixer, Finding& finding, const Length& length) {
    const double count = length.layers.count(length.mm);
    const double near = std::max(1.0, std::floor(count + 0.5 + same));
    const double other = near > count ? std::floor(count) : std::ceil(count);
    for (const double wanted : {near, other}) {
        if (wanted < 1) continue;
        const double mm = std::round(length.layers.length(wanted) * 1e4) / 1e4;
        Fix fix{std::string(length.key),
                std::string(length.name) + " " + change_of(length.mm, mm) + ", " + short_number(wanted) +
                    (wanted == 1 ? " layer" : " layers"),
                edit_parameter(fixer.view().mark->id, std::string(length.key), mm)};
        fixer.offer(finding, std::move(fix), Need::widths);
    }
}

} // namespace

void judge_whole_layers(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (const auto& [assess, length] : {std::pair{&assess_depth, &depth_of}, std::pair{&assess_cover, &cover_of}})
        for (Finding& finding : assess(context, view, mark)) {
            offer_whole(Fixer(context, mark, assess, finding.severity), finding, length(context, view));
            findings.push_back(std::move(finding));
        }
}

} // namespace touchmark::rules
