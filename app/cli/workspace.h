// SPDX-License-Identifier: MIT
#pragma once

#include "app/cli/command.h"
#include "core/deliver/step.h"
#include "core/pipeline/evaluate.h"
#include "core/process/profiles.h"

#include <filesystem>

namespace touchmark::cli {

/// An error together with what the program tells its caller about it.
struct Failure {
    Error error;
    Exit exit = Exit::input;
};
template <class T> using Outcome = std::expected<T, Failure>;

[[nodiscard]] std::unexpected<Failure> failed(Error error, Exit exit);
/// A part with everything that it is evaluated against.
struct Workspace {
    pipeline::Surroundings around;
    pipeline::Evaluator evaluator;
    double seconds_read = 0;
};
[[nodiscard]] Outcome<std::unique_ptr<Workspace>> open_workspace(const Environment& environment,
                                                                 const std::filesystem::path& part);

/// Those that come along, and the user's own. A file of the user's that cannot be used is left out, not an error.
[[nodiscard]] Result<process::Profiles> all_profiles();
[[nodiscard]] Result<std::vector<process::Process>> all_processes();
/// Errors: "cli.usage", saying how to find out which there are, and why one of the user's own is not among them.
[[nodiscard]] Result<std::string> known_process(std::span<const process::Process> processes, const std::string& id);
inline constexpr std::string_view standard_process = "fff-0.4";
[[nodiscard]] const process::Process& process_of(const Workspace& workspace, const job::Job& job);

/// A job from its file, its marks bound to the faces of the part as it is now.
struct OpenedJob {
    std::unique_ptr<Workspace> workspace;
    job::Job job;
};
[[nodiscard]] Outcome<OpenedJob> open_job(const Environment& environment, const std::filesystem::path& file);

/// Options that mark and apply share: -o, --picture, --json.
[[nodiscard]] std::vector<Option> output_options();
/// Evaluates, builds, writes and reports; the end of mark and apply.
[[nodiscard]] Exit deliver(const Environment& environment, const Arguments& arguments, Workspace& workspace,
                           const job::Job& job);
/// REQUIRES: findings of any mark. done or done_with_blockers.
[[nodiscard]] Exit exit_for(std::span<const rules::Finding> findings);

} // namespace touchmark::cli
