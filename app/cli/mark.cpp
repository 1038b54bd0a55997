// SPDX-License-Identifier: MIT
#include "app/cli/content_options.h"
#include "app/cli/workspace.h"
#include "core/job/job_file.h"
#include "core/job/parameter.h"

#include <algorithm>

namespace touchmark::cli {
namespace {

namespace fs = std::filesystem;
Result<job::Job> job_from(const Arguments& arguments) {
    job::Job job;
    std::error_code unknown;
    job.part.file = fs::absolute(arguments.operand(0), unknown);
    job::Mark mark;
    const auto face = parse_index("--face", arguments.value("--face"));
    if (!face) return std::unexpected(face.error());
    mark.anchor.face = *face;
    if (arguments.has("--at")) {
        const auto at = parse_point("--at", arguments.value("--at"));
        if (!at) return std::unexpected(at.error());
        mark.anchor.at = *at;
    }
    if (arguments.has("--down")) {
        const auto down = parse_direction("--down", arguments.value("--down"));
        if (!down) return std::unexpected(down.error());
        job.pose.down = *down;
    }
    job.process = arguments.value_or("--process", std::string(standard_process));
    auto added = job::add_mark(std::move(job), std::move(mark));
    if (!added) return added;
    return with_content(*std::move(added), arguments);
}

/// The face has to be there and have a map; its fingerprint goes into the job.
Status bind(job::Job& job, const part::Part& part) {
    job::Anchor& anchor = job.marks.front().anchor;
    if (const auto map = surface::map_face(part, anchor.face); !map) return std::unexpected(map.error());
    anchor.fingerprint = part.faces()[static_cast<std::size_t>(anchor.face)].fingerprint;
    job.part.digest = part.digest();
    return {};
}

} // namespace

std::vector<Option> mark_options() {
    std::vector<Option> options{{"--face", "N", "Index of the face, see touchmark-cli faces.", true}};
    std::ranges::move(content_options(Which::every_value), std::back_inserter(options));
    options.push_back({"--at", "U,V", "Place, mm from the centre of the largest rectangle that fits the face.", false});
    options.push_back(
        {"--down", "X,Y,Z", "Direction of the part's file that points to the plate; 0,0,-1 by default.", false});
    options.push_back({"--process", "NAME", "Process profile, see touchmark-cli processes.", false});
    options.push_back({"--job", "OUT.json", "Also writes the job, to be opened or applied again.", false});
    std::ranges::move(output_options(), std::back_inserter(options));
    return options;
}

Exit run_mark(const Environment& environment, const Arguments& arguments) {
    auto job = job_from(arguments);
    if (!job) return complain(environment, job.error(), Exit::usage);
    auto workspace = open_workspace(environment, job->part.file);
    if (!workspace) return complain(environment, workspace.error().error, workspace.error().exit);
    Workspace& open = **workspace;
    if (const auto known = known_process(*open.around.processes, job->process); !known)
        return complain(environment, known.error(), Exit::usage);
    if (const Status bound = bind(*job, *open.around.part); !bound)
        return complain(environment, bound.error(), Exit::input);
    const Exit exit = deliver(environment, arguments, open, *job);
    if (exit != Exit::done && exit != Exit::done_with_blockers) return exit;
    if (arguments.has("--job")) {
        std::error_code unknown;
        if (const Status saved = job::save_job(*job, fs::absolute(arguments.value("--job"), unknown)); !saved)
            return complain(environment, saved.error(), Exit::not_made);
    }
    return exit;
}

} // namespace touchmark::cli
