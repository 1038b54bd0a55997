// SPDX-License-Identifier: MIT
#include "core/rules/fixes.h"
#include "core/rules/grooves.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"
#include "core/content/code.h"

namespace touchmark::rules {
namespace {

using content::Symbology;

/// nullptr: nobody measured how deep that symbology has to be.
const process::Limit* limit_for(const Context& context, const MarkView& view) {
    const auto* code = std::get_if<content::Code>(&view.mark->content);
    if (!code || content::row_of(code->symbology).linear) return nullptr;
    const bool matrix = code->symbology == Symbology::data_matrix || code->symbology == Symbology::gs1_data_matrix;
    return context.process.limit(matrix ? "relief_matrix" : "relief_qr", view.mark->mode, view.zone);
}

std::vector<Finding> assess(const Context& context, const MarkView& view, std::size_t) {
    const Mode mode = view.mark->mode;
    if (mode != Mode::engrave && mode != Mode::raise) return {}; // the others have a second colour, or light
    const process::Limit* limit = limit_for(context, view);
    if (!limit || !view.drawn || !view.drawn->code) return {};
    const content::ModulePlaces& places = *view.drawn->code;
    const bool grooved = places.groove_mm > 0;
    const double width = grooved ? places.groove_mm : places.module_mm, figure = view.mark->depth.value / width;
    const auto severity = at_least(figure, *limit);
    if (!severity) return {};
    Finding finding = finding_of("code_relief", view, *severity);
    set_figures(finding, figure, *limit);
    finding.message = "In one colour the code reads by its shadows: it is " + text_of(view.mark->depth) +
                      (cuts_in(mode) ? " deep" : " high") + (grooved ? " with grooves of " : " with modules of ") +
                      text_of(Mm(width)) + ", " + short_number(figure) +
                      (grooved ? " of a groove; " : " of a module; ") + short_number(missed(finding)) +
                      " reads. Ink or a second colour makes it readable at any depth.";
    locate_whole(finding, view);
    soften(finding);
    return {std::move(finding)};
}

std::string depth_change(const job::Mark& mark, double depth) {
    return (mark.mode == Mode::raise ? "height off the face " : "depth ") + change_of(mark.depth.value, depth);
}

/// Deeper, with modules as small as the process draws comfortably where depth alone would be too much.
void offer_deeper(const Fixer& fixer, Finding& finding, double wanted, std::string_view said, job::Edit first) {
    const MarkView& view = fixer.view();
    const process::Process& process = fixer.context().process;
    const process::Limit* most = process.limit("depth_max", view.mark->mode, view.zone);
    const process::Limit* stroke = process.limit("stroke_width", view.mark->mode, view.zone);
    const process::Limit* gap = process.limit("gap_width", view.mark->mode, view.zone);
    const double now = content::size_of(view.mark->content).value;
    std::vector<double> modules{now};
    for (const auto figure : {&process::Limit::comfortable, &process::Limit::hard}) {
        const double least = std::max(stroke ? (stroke->*figure).value : 0, gap ? (gap->*figure).value : 0);
        if (least > 0 && least < modules.back()) modules.push_back(rounded_up(least, 0.05));
    }
    for (const double module : modules) {
        const double depth = std::max(view.mark->depth.value, rounded_up(wanted * module, 0.05));
        if (most && depth > most->hard.value + same) continue;
        job::Edit edit = first ? then(first, edit_depth(view.mark->id, depth)) : edit_depth(view.mark->id, depth);
        std::string title(said);
        if (module < now) {
            title += (title.empty() ? "" : ", ") + size_change(*view.mark, module);
            edit = then(std::move(edit), edit_size(view.mark->id, module));
        }
        if (depth > view.mark->depth.value) title += (title.empty() ? "" : ", ") + depth_change(*view.mark, depth);
        title.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(title.front())));
        const std::string_view id = first ? "data_matrix" : module < now ? "smaller_and_deeper" : "depth";
        if (fixer.offer(finding, {std::string(id), std::move(title), std::move(edit)}, Need::widths) &&
            (!most || depth <= most->comfortable.value + same))
            return;
    }
}

/// The same message in modules that read at less depth.
void offer_data_matrix(const Fixer& fixer, Finding& finding) {
    const MarkView& view = fixer.view();
    const auto& code = std::get<content::Code>(view.mark->content);
    if (code.symbology == Symbology::data_matrix || code.symbology == Symbology::gs1_data_matrix) return;
    const bool gs1 = content::row_of(code.symbology).gs1;
    const process::Limit* limit = fixer.context().process.limit("relief_matrix", view.mark->mode, view.zone);
    if (!limit) return;
    offer_deeper(fixer, finding, limit->comfortable.value,
                 gs1 ? "GS1 DataMatrix instead of GS1 QR code" : "Data Matrix instead of QR code",
                 [id = view.mark->id, gs1](const job::Job& job) -> Result<job::Job> {
                     const job::Mark* mark = job.find(id);
                     const auto* was = mark ? std::get_if<content::Code>(&mark->content) : nullptr;
                     if (!was) return fail("job.no_mark", "There is no code '" + id + "' any more.");
                     content::Code other = *was;
                     other.symbology = gs1 ? Symbology::gs1_data_matrix : Symbology::data_matrix;
                     other.version = 0;
                     other.rectangular = false;
                     return job::set_content(job, id, other);
                 });
}

} // namespace

void judge_code_relief(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    const MarkView& view = context.marks[mark];
    for (Finding& finding : assess(context, view, mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        if (context.what_if) {
            offer_data_matrix(fixer, finding);
            if (auto grooves = grooves_fix(context, view)) fixer.offer(finding, *std::move(grooves), Need::widths);
            if (view.drawn->code->groove_mm <= 0) offer_deeper(fixer, finding, *finding.comfortable, "", {});
            fixer.offer(finding, {"inlay", "Inlay in a second colour", edit_mode(view.mark->id, Mode::inlay)},
                        Need::widths);
        }
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
