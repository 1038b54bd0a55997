// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "app/viewport/picture.h"
#include "core/base/number_text.h"

#include <nlohmann/json.hpp>

namespace touchmark::cli {
namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

struct Made {
    std::shared_ptr<const pipeline::Evaluation> evaluation;
    std::shared_ptr<const pipeline::Marked> marked;
    deliver::StepReport report;
};

/// What a mark says or the face it names is the caller's input; the rest is ours to make.
Exit exit_for_build(const Error& error) {
    for (const std::string_view module : {"content.", "font.", "surface.", "pipeline."})
        if (error.code.starts_with(module)) return Exit::input;
    return Exit::not_made;
}

Outcome<Made> make(const Environment& environment, const fs::path& target, Workspace& workspace, const job::Job& job,
                   imprint::RouteChoice route) {
    const Progress progress;
    auto marked = workspace.evaluator.build(job, workspace.around, progress, route);
    if (!marked) return failed(marked.error(), exit_for_build(marked.error()));
    auto evaluation = workspace.evaluator.evaluate(job, workspace.around, progress, pipeline::Depth::tried);
    if (!evaluation) return failed(evaluation.error(), Exit::not_made);
    deliver::StepOptions options;
    options.volume_mm3 = (*marked)->volume_to_hold_mm3();
    options.unmarked = workspace.around.part;
    auto report = deliver::write_step(*(*marked)->part, target, options, *environment.reader, progress);
    if (!report) return failed(report.error(), Exit::not_made);
    return Made{*std::move(evaluation), *std::move(marked), *report};
}

Json json_of(const Made& made, const Workspace& workspace) {
    const pipeline::Marked& marked = *made.marked;
    return {{"findings", findings_json(made.evaluation->findings)},
            {"volume_before_mm3", marked.volume_before_mm3},
            {"volume_after_mm3", marked.volume_after_mm3},
            {"volume_change_mm3", marked.volume_change_mm3},
            {"faces_before", workspace.around.part->faces().size()},
            {"faces_after", marked.part->faces().size()},
            {"route", imprint::key_of(marked.route)},
            {"seconds",
             {{"read", workspace.seconds_read},
              {"outline", marked.seconds_outline},
              {"imprint", marked.seconds_imprint},
              {"verify", made.report.seconds_verify},
              {"write", made.report.seconds_write}}}};
}

void print_summary(std::ostream& out, const Made& made, const fs::path& target, const Workspace& workspace) {
    print_findings(out, made.evaluation->findings);
    const pipeline::Marked& marked = *made.marked;
    out << "Wrote " << target.string() << ": volume " << number_text(marked.volume_before_mm3) << " → "
        << number_text(marked.volume_after_mm3) << " mm³, faces " << workspace.around.part->faces().size() << " → "
        << marked.part->faces().size() << ", read back and checked.\n";
}

/// The first mark's face, looked at squarely; the whole part when there are several.
viewport::PictureOptions picture_of(const job::Job& job) {
    viewport::PictureOptions options;
    if (job.marks.size() == 1) options.face = job.marks.front().anchor.face;
    return options;
}

} // namespace

std::vector<Option> output_options() {
    return {
        {"--route", "auto|direct|general",
         "How the marks are made: straight into the shell, or by a boolean of solids; auto chooses. For comparison.",
         false},
        {"--picture", "OUT.png", "Also writes a picture of the marked part.", false},
        {"-o", "OUT.step", "Where the marked part goes.", true},
        {"--json", "", "Prints one JSON object instead of sentences.", false}};
}

Exit deliver(const Environment& environment, const Arguments& arguments, Workspace& workspace, const job::Job& job) {
    const fs::path target = arguments.value("-o");
    std::error_code unknown;
    if (fs::equivalent(target, job.part.file, unknown))
        return complain(environment,
                        {"cli.usage", "'-o' names the part itself.", "Give the marked part a name of its own."},
                        Exit::usage);
    const auto route = imprint::route_from(arguments.value_or("--route", "auto"));
    if (!route)
        return complain(environment, {"cli.usage", "'--route' takes auto, direct or general.", ""}, Exit::usage);
    const auto made = make(environment, target, workspace, job, *route);
    if (!made) return complain(environment, made.error().error, made.error().exit);
    if (arguments.has("--picture")) {
        const auto drawn = viewport::write_picture(*made->marked->part, *made->evaluation, process_of(workspace, job),
                                                   arguments.value("--picture"), picture_of(job));
        if (!drawn) {
            Error error = drawn.error();
            error.message = "The marked part is written, but not its picture: " + error.message;
            return complain(environment, error, Exit::not_made);
        }
    }
    if (arguments.has("--json"))
        print_json(environment.out, json_of(*made, workspace));
    else
        print_summary(environment.out, *made, target, workspace);
    return exit_for(made->evaluation->findings);
}

} // namespace touchmark::cli
