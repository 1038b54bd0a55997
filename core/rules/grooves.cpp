// SPDX-License-Identifier: MIT
#include "core/rules/grooves.h"

#include "core/base/number_text.h"
#include "core/content/code.h"

#include <algorithm>
#include <cmath>

namespace touchmark::rules {

std::optional<Fix> grooves_fix(const Context& context, const MarkView& view) {
    const job::Mark& mark = *view.mark;
    const auto* code = std::get_if<content::Code>(&mark.content);
    if (mark.mode != Mode::engrave || !code || content::row_of(code->symbology).linear || code->grooves > 0)
        return std::nullopt;
    const process::Limit* stroke = context.process.limit("stroke_width", mark.mode, view.zone);
    const process::Limit* gap = context.process.limit("gap_width", mark.mode, view.zone);
    if (!stroke || !gap) return std::nullopt;
    const double apart =
        std::max(stroke->hard.value / content::groove_share, gap->hard.value / (1 - content::groove_share));
    const double module = code->module.value, most = std::floor(module / apart + same);
    if (most < 1) return std::nullopt;
    return Fix{"grooves",
               "Modules of " + short_number(most) + (most > 1 ? " grooves, " : " groove, ") +
                   text_of(Mm(module / most * content::groove_share)) + " wide",
               edit_parameter(mark.id, "grooves", most)};
}

} // namespace touchmark::rules
