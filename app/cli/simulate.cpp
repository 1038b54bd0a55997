// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "app/viewport/save_picture.h"
#include "core/print/text_reading.h"
#include "core/process/extrusion.h"

#include <nlohmann/json.hpp>

#include <iomanip>

namespace touchmark::cli {
namespace {

constexpr double pixels_a_mm = 20;

nlohmann::ordered_json json_of(const print::PrintedMark& mark, const std::optional<print::TextReading>& text) {
    nlohmann::ordered_json out{{"verdict", key_of(mark.verdict())},
                               {"layers", mark.printed.layers},
                               {"depth_mm", rounded(mark.printed.depth)}};
    if (mark.modules)
        out["modules"] = {{"count", mark.modules->modules},
                          {"wrong", mark.modules->wrong},
                          {"least_margin", rounded(mark.modules->least_margin)},
                          {"bearable_share", rounded(mark.bearable_share)}};
    if (mark.reading && mark.reading->looked()) {
        auto& lights = out["read_in"] = nlohmann::ordered_json::array();
        for (const print::CodeTry& one : mark.reading->tries)
            lights.push_back({{"light", print::title_of(one.lighting)},
                              {"pictures", one.pictures},
                              {"right", one.right},
                              {"instead", one.instead}});
    }
    if (mark.light)
        out["light"] = {{"measured", mark.light->measured},
                        {"thinnest_mm", rounded(mark.light->thinnest_mm)},
                        {"thickest_mm", rounded(mark.light->thickest_mm)},
                        {"least_contrast", rounded(mark.light->least_contrast())}};
    if (text)
        out["text_read"] = {{"light", print::title_of(text->lighting)}, {"read", text->read}, {"wrong", text->wrong()}};
    auto pieces = nlohmann::ordered_json::array();
    for (std::size_t i = 0; i < mark.pieces.size(); ++i) {
        const print::PrintedPiece& piece = mark.pieces[i];
        pieces.push_back({{"piece", piece.label},
                          {"figure", rounded(piece.fidelity.figure())},
                          {"strokes", rounded(piece.fidelity.strokes)},
                          {"gaps", rounded(piece.fidelity.gaps)},
                          {"depth", rounded(piece.fidelity.depth)},
                          {"overlap", rounded(piece.fidelity.overlap)}});
        if (text) pieces.back()["read"] = text->right[i] ? piece.label : text->instead[i];
    }
    out["pieces"] = pieces;
    return out;
}

void print_reading(std::ostream& out, const print::PrintedMark& mark, const print::TextReading& text) {
    out << "  In " << print::title_of(text.lighting) << " Tesseract reads \"" << text.read
        << "\": " << mark.pieces.size() - text.wrong() << " of " << mark.pieces.size() << " characters right.\n";
    for (std::size_t i = 0; i < mark.pieces.size(); ++i)
        if (!text.right[i])
            out << "  '" << mark.pieces[i].label << "' is read as "
                << (text.instead[i].empty() ? "nothing" : "'" + text.instead[i] + "'") << ".\n";
}

void print_lines(std::ostream& out, const std::string& name, const print::PrintedMark& mark) {
    out << '"' << name << "\" " << outcome_words(mark.verdict()) << ", " << std::fixed << std::setprecision(2)
        << mark.printed.depth << " mm deep.\n";
    if (mark.modules)
        out << "  " << mark.modules->wrong << " of " << mark.modules->modules << " modules come out wrong.\n";
    if (mark.reading && mark.reading->looked())
        for (const print::CodeTry& one : mark.reading->tries)
            out << "  In " << print::title_of(one.lighting) << " a decoder reads it in " << one.right << " of "
                << one.pictures << " pictures.\n";
    if (mark.light)
        out << "  Against a light its contrast is " << mark.light->least_contrast() << ", through "
            << mark.light->thickest_mm << " mm of wall.\n";
    for (const print::PrintedPiece& piece : mark.pieces) {
        if (piece.fidelity.figure() >= print::reads_from) continue;
        out << "  '" << piece.label << "': " << std::setprecision(0) << 100 * piece.fidelity.strokes
            << " % of its strokes, " << 100 * piece.fidelity.gaps << " % of its gaps, " << 100 * piece.fidelity.overlap
            << " % of its area as planned.\n";
    }
}

} // namespace

Error not_printed(const pipeline::Evaluation& evaluation, std::size_t mark, const process::Process& process) {
    if (const auto& trouble = evaluation.marks[mark].trouble) return *trouble;
    if (!process.printing) return process::no_simulated_print(process);
    return {"print.not_made", "The mark \"" + evaluation.job.marks[mark].name + "\" cannot be printed in simulation.",
            "It is larger than 2 m or has no far side to go through to; see its findings."};
}

std::vector<Option> simulate_options() {
    return {{"--mark", "NAME", "Only this mark; without it, all of the job's.", false},
            {"--picture", "PNG",
             "Draws the printed mark: lost strokes orange, fused gaps blue. Needs --mark, or a job "
             "with one mark.",
             false},
            {"--ocr", "",
             "Has the printed lettering read by the program tesseract too, where it is installed, and says for each "
             "character what it is taken for.",
             false},
            {"--json", "", "Prints one JSON object instead of sentences.", false}};
}

Exit run_simulate(const Environment& environment, const Arguments& arguments) {
    const auto opened = open_job(environment, arguments.operand(0));
    if (!opened) return complain(environment, opened.error().error, opened.error().exit);
    const job::Job& job = opened->job;
    const process::Process& process = process_of(*opened->workspace, job);
    const auto evaluation =
        opened->workspace->evaluator.evaluate(job, opened->workspace->around, Progress(), pipeline::Depth::printed);
    if (!evaluation) return complain(environment, evaluation.error(), Exit::not_made);
    std::vector<std::size_t> chosen;
    for (std::size_t i = 0; i < job.marks.size(); ++i)
        if (!arguments.has("--mark") || arguments.value("--mark") == job.marks[i].name) chosen.push_back(i);
    if (chosen.empty())
        return complain(environment, {"cli.usage", "The job has no such mark.", "See the job's file for their names."},
                        Exit::usage);
    if (arguments.has("--picture") && chosen.size() != 1)
        return complain(environment, {"cli.usage", "--picture draws one mark.", "Choose it with --mark."}, Exit::usage);
    auto list = nlohmann::ordered_json::object();
    bool lost = false;
    for (const std::size_t i : chosen) {
        const auto mark = (*evaluation)->marks[i].printed;
        if (!mark) return complain(environment, not_printed(**evaluation, i, process), Exit::not_made);
        lost = lost || mark->verdict() == print::Verdict::lost;
        std::optional<print::TextReading> text;
        if (arguments.has("--ocr") && !mark->pieces.empty()) {
            auto read = print::read_text(*mark, Progress());
            if (!read) return complain(environment, read.error(), Exit::not_made);
            text = *std::move(read);
        }
        if (arguments.has("--json")) {
            list[job.marks[i].name] = json_of(*mark, text);
        } else {
            print_lines(environment.out, job.marks[i].name, *mark);
            if (text) print_reading(environment.out, *mark, *text);
        }
        if (!arguments.has("--picture")) continue;
        const print::Picture picture =
            print::picture_of(mark->printed, job.marks[i].mode, *process.printing, pixels_a_mm, true);
        if (const Status saved = viewport::save_picture(picture, arguments.value("--picture")); !saved)
            return complain(environment, saved.error(), Exit::not_made);
    }
    if (arguments.has("--json")) print_json(environment.out, {{"marks", list}});
    return lost ? Exit::done_with_blockers : Exit::done;
}

} // namespace touchmark::cli
