// SPDX-License-Identifier: MIT
#include "app/cli/workspace.h"

#include "app/resources.h"
#include "core/job/job_file.h"

#include <algorithm>
#include <chrono>

namespace touchmark::cli {

std::unexpected<Failure> failed(Error error, Exit exit) {
    return std::unexpected(Failure{std::move(error), exit});
}

Result<process::Profiles> all_profiles() {
    Result<process::Profiles> profiles = process::load_built_in(resources_folder());
    if (profiles) process::add_own(*profiles, own_processes_folder());
    return profiles;
}

Result<std::vector<process::Process>> all_processes() {
    const auto profiles = all_profiles();
    if (!profiles) return std::unexpected(profiles.error());
    return profiles->processes();
}

Result<std::string> known_process(std::span<const process::Process> processes, const std::string& id) {
    if (std::ranges::find(processes, id, &process::Process::id) != processes.end()) return id;
    if (const auto profiles = all_profiles())
        for (const process::LeftOut& one : profiles->left_out)
            if (one.file.stem() == id)
                return fail("cli.usage",
                            "The process '" + id + "' cannot be used: " + one.file.string() + ": " + one.error.message,
                            one.error.hint);
    return fail("cli.usage", "There is no process '" + id + "'; touchmark-cli processes lists those there are.");
}

const process::Process& process_of(const Workspace& workspace, const job::Job& job) {
    return *std::ranges::find(*workspace.around.processes, job.process, &process::Process::id);
}

Outcome<std::unique_ptr<Workspace>> open_workspace(const Environment& environment, const std::filesystem::path& part) {
    auto workspace = std::make_unique<Workspace>();
    auto processes = all_processes();
    if (!processes) return failed(processes.error(), Exit::input);
    workspace->around.processes = std::make_shared<const std::vector<process::Process>>(*std::move(processes));
    const auto start = std::chrono::steady_clock::now();
    auto read = environment.reader->read(part, Progress());
    if (!read) return failed(read.error(), Exit::input);
    workspace->around.part = *std::move(read);
    workspace->seconds_read = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    auto fonts = content::FontLibrary::system();
    if (!fonts) return failed(fonts.error(), Exit::input);
    workspace->around.fonts = *std::move(fonts);
    return workspace;
}

Outcome<OpenedJob> open_job(const Environment& environment, const std::filesystem::path& file) {
    auto job = job::load_job(file);
    if (!job) return failed(job.error(), Exit::input);
    auto workspace = open_workspace(environment, job->part.file);
    if (!workspace) return std::unexpected(workspace.error());
    if (auto known = known_process(*(*workspace)->around.processes, job->process); !known)
        return failed(known.error(), Exit::input);
    job::Job rebound = job::rebind(*std::move(job), *(*workspace)->around.part).job;
    return OpenedJob{*std::move(workspace), std::move(rebound)};
}

Exit exit_for(std::span<const rules::Finding> findings) {
    const bool blocked =
        std::ranges::find(findings, rules::Severity::blocker, &rules::Finding::severity) != findings.end();
    return blocked ? Exit::done_with_blockers : Exit::done;
}

} // namespace touchmark::cli
