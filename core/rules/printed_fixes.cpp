// SPDX-License-Identifier: MIT
#include "core/rules/printed_fixes.h"

#include "core/base/number_text.h"
#include "core/job/parameter.h"

#include <array>
#include <cmath>

namespace touchmark::rules {
namespace {

constexpr double step = 0.1; // mm

std::optional<Trial> printed(const Fixer& fixer, const job::Edit& edit) {
    if (!fixer.context().printing) return std::nullopt;
    auto trial = fixer.attempt(edit, Need::printed);
    if (trial && !trial->view.printed) return std::nullopt;
    return trial;
}

} // namespace

bool offer_printed(const Fixer& fixer, Finding& finding, Fix fix) {
    const auto trial = printed(fixer, fix.edit);
    if (!trial || !fixer.helps(*trial)) return false;
    finding.fixes.push_back(std::move(fix));
    return true;
}

void offer_printed_size(const Fixer& fixer, Finding& finding) {
    const job::Mark& mark = *fixer.view().mark;
    const double now = content::size_of(mark.content).value, most = job::parameter(job::size_key(mark.content))->most;
    const auto clean = [&](double size) {
        const auto trial = printed(fixer, edit_size(mark.id, size));
        return trial && !trial->severity;
    };
    double too_small = now;
    for (const double factor : {1.25, 1.6, 2.0, 2.5, 3.2}) {
        double size = rounded_up(now * factor, step);
        if (size > most) return;
        if (!clean(size)) {
            too_small = size;
            continue;
        }
        for (int halving = 0; halving < 2 && size - too_small > 2 * step; ++halving) {
            const double between = rounded_up((size + too_small) / 2, step);
            (clean(between) ? size : too_small) = between;
        }
        offer_height(fixer, finding, size);
        return;
    }
}

void offer_printed_depth(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const process::Limit* limit = fixer.context().process.limit("depth_max", view.mark->mode, view.zone);
    const double now = view.mark->depth.value, most = limit ? limit->comfortable.value : now;
    for (double depth = rounded_down(now, step) + step; depth <= most + 1e-9; depth += step)
        if (const double wanted = rounded_down(depth, step); offer_printed(
                fixer, finding, {"depth", "Depth " + change_of(now, wanted), edit_depth(view.mark->id, wanted)}))
            return;
}

std::string percent(double share) {
    return std::to_string(std::lround(100 * share)) + " %";
}

} // namespace touchmark::rules
