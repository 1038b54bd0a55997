// SPDX-License-Identifier: MIT
#include "app/cli/content_options.h"
#include "app/cli/workspace.h"
#include "core/job/job_file.h"
#include "core/job/parameter.h"

#include <algorithm>

namespace touchmark::cli {
namespace {

namespace fs = std::filesystem;
constexpr std::string_view keep_clear_option = "--keep-clear";

/// "FACE=REASON" or "FACE=REASON:NOTE".
Result<job::Job> with_kept_clear(job::Job job, const Arguments& arguments) {
    for (const std::string& one : arguments.all(keep_clear_option)) {
        const std::size_t equals = one.find('='), colon = one.find(':', equals == std::string::npos ? 0 : equals);
        const auto face = parse_index(keep_clear_option, one.substr(0, equals));
        if (!face) return std::unexpected(face.error());
        job::ClearFace kept{*face, {}, job::ClearReason::other, {}};
        if (equals != std::string::npos) {
            const auto reason = job::clear_reason_from(
                std::string_view(one).substr(equals + 1, colon == std::string::npos ? colon : colon - equals - 1));
            if (!reason)
                return fail("cli.usage", "The reason in '" + std::string(keep_clear_option) + " " + one +
                                             "' is none of sealing, mating, load_bearing and other.");
            kept.reason = *reason;
        }
        if (colon != std::string::npos) kept.note = one.substr(colon + 1);
        auto edited = job::keep_clear(std::move(job), std::move(kept));
        if (!edited) return edited;
        job = *std::move(edited);
    }
    return job;
}

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
    auto keeping = with_kept_clear(*std::move(added), arguments);
    if (!keeping) return keeping;
    return with_content(*std::move(keeping), arguments);
}

/// The face has to be there and have a map; its fingerprint goes into the job.
Status bind(job::Job& job, const part::Part& part) {
    job::Anchor& anchor = job.marks.front().anchor;
    if (const auto map = surface::map_face(part, anchor.face); !map) return std::unexpected(map.error());
    anchor.fingerprint = part.faces()[static_cast<std::size_t>(anchor.face)].fingerprint;
    job.part.digest = part.digest();
    for (job::ClearFace& kept : job.kept_clear) {
        if (static_cast<std::size_t>(kept.face) >= part.faces().size())
            return fail("surface.no_face", "The part has no face " + std::to_string(kept.face) + " to keep clear.",
                        "touchmark-cli faces lists its faces.");
        kept.fingerprint = part.faces()[static_cast<std::size_t>(kept.face)].fingerprint;
    }
    return {};
}

} // namespace

std::vector<Option> mark_options() {
    std::vector<Option> options{{"--face", "N", "Index of the face, see touchmark-cli faces.", true}};
    std::ranges::move(content_options(Which::every_value), std::back_inserter(options));
    options.push_back({"--at", "U,V", "Place, mm from the centre of the largest rectangle that fits the face.", false});
    options.push_back(
        {"--down", "X,Y,Z", "Direction of the part's file that points to the plate; 0,0,-1 by default.", false});
    options.push_back({std::string(keep_clear_option), "FACE=REASON",
                       "A face that marks stay off: sealing, mating, load_bearing or other; a note may follow a colon. "
                       "May be repeated.",
                       false, true});
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
