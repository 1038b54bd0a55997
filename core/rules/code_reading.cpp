// SPDX-License-Identifier: MIT
#include "core/rules/grooves.h"
#include "core/rules/printed_fixes.h"
#include "core/rules/table.h"

#include "core/base/number_text.h"

#include <algorithm>

namespace touchmark::rules {
namespace {

std::string wrong_modules(const print::PrintedMark& printed) {
    const double bears = printed.bearable_share * printed.modules->modules;
    return std::to_string(printed.modules->wrong) + " of " + std::to_string(printed.modules->modules) +
           " modules come out wrong; its error correction bears " + number_text(std::floor(bears)) + " for sure.";
}

/// In which lights it is read.
std::string lights(const print::CodeReading& reading, const job::Mark& mark, double module_mm) {
    const auto read = std::ranges::count_if(reading.tries, &print::CodeTry::read);
    if (reading.tries.size() == 1)
        return "A decoder does not read it by " + std::string(print::title_of(reading.tries.front().lighting)) + ".";
    std::string out =
        read == 0 ? "A decoder reads it in none of " : "A decoder reads it in " + std::to_string(read) + " of ";
    out += std::to_string(reading.tries.size()) + " lights";
    for (const print::CodeTry& one : reading.tries)
        if (read > 0 && !one.read() && print::is_even(one.lighting)) {
            out += ", not in " + std::string(print::title_of(one.lighting));
            break;
        }
    return out + ": in one colour a code lives by its shadows, and it is " + number_text(mark.depth.value / module_mm) +
           " modules deep.";
}

std::vector<Finding> assess(const Context&, const MarkView& view, std::size_t) {
    if (!view.printed || !view.printed->modules) return {};
    const print::PrintedMark& printed = *view.printed;
    const print::Verdict verdict = printed.code_verdict();
    if (verdict == print::Verdict::reads) return {};
    const auto* code = std::get_if<content::Code>(&view.mark->content);
    Finding finding =
        finding_of("code_reading", view, verdict == print::Verdict::lost ? Severity::blocker : Severity::warning);
    const bool by_modules = 2 * printed.modules->share() > printed.bearable_share;
    finding.source = "simulated print, read by ZXing-C++";
    if (by_modules || !printed.reading) {
        finding.figure = printed.modules->share();
        finding.limit = printed.bearable_share;
        finding.comfortable = printed.bearable_share / 2;
        finding.message = wrong_modules(printed);
        locate(finding, view, {on_map(view, printed.modules->worst)}, 3 * code->module.value);
        return {std::move(finding)};
    }
    const auto& tries = printed.reading->tries;
    finding.figure =
        static_cast<double>(std::ranges::count_if(tries, &print::CodeTry::read)) / static_cast<double>(tries.size());
    finding.limit = 1.0 / static_cast<double>(tries.size());
    finding.comfortable = 1;
    finding.message = lights(*printed.reading, *view.mark, code->module.value);
    locate_whole(finding, view);
    return {std::move(finding)};
}

job::Edit edit_code(const std::string& mark, std::function<void(content::Code&)> change) {
    return [mark, change = std::move(change)](const job::Job& job) -> Result<job::Job> {
        job::Job edited = job;
        for (job::Mark& one : edited.marks)
            if (auto* code = std::get_if<content::Code>(&one.content); code && one.id == mark) change(*code);
        return edited;
    };
}

/// Data Matrix reads from shadows where QR, with its finder patterns of several modules, does not.
void offer_data_matrix(const Fixer& fixer, Finding& finding) {
    using enum content::Symbology;
    const auto* code = std::get_if<content::Code>(&fixer.view().mark->content);
    if (!code || (code->symbology != qr && code->symbology != gs1_qr && code->symbology != micro_qr)) return;
    offer_printed(
        fixer, finding,
        {"data_matrix", "Data Matrix instead of QR", edit_code(fixer.view().mark->id, [](content::Code& edited) {
             edited.symbology = edited.symbology == gs1_qr ? gs1_data_matrix : data_matrix;
             edited.version = 0;
         })});
}

} // namespace

void judge_code_reading(const Context& context, std::size_t mark, std::vector<Finding>& findings) {
    for (Finding& finding : assess(context, context.marks[mark], mark)) {
        const Fixer fixer(context, mark, &assess, finding.severity);
        const job::Mark& own = *fixer.view().mark;
        offer_data_matrix(fixer, finding);
        if (auto grooves = grooves_fix(context, fixer.view())) offer_printed(fixer, finding, *std::move(grooves));
        offer_printed_depth(fixer, finding);
        if (finding.limit != 1) offer_printed_size(fixer, finding);
        if (own.mode == Mode::engrave || own.mode == Mode::raise)
            offer_printed(fixer, finding, {"inlay", "Inlay in a second colour", edit_mode(own.id, Mode::inlay)});
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
