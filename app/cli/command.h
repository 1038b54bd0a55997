// SPDX-License-Identifier: MIT
#pragma once

#include "app/cli/arguments.h"
#include "core/part/reader.h"

#include <iosfwd>
#include <memory>

namespace touchmark::cli {

/// What the program tells its caller.
enum class Exit {
    done = 0,
    done_with_blockers = 1, ///< made all the same, but something will not print
    usage = 2,
    input = 3,    ///< the part, the job or the text cannot be used
    not_made = 4, ///< could not be made or verified; nothing was written
};

struct Environment {
    std::shared_ptr<part::Reader> reader;
    std::ostream& out; ///< results only
    std::ostream& err; ///< one line an error
};

/// One row a subcommand, one file a subcommand.
struct Command {
    std::string_view name;
    std::string_view summary;
    std::vector<std::string> operands; ///< "PART"
    std::vector<Option> (*options)() = nullptr;
    Exit (*run)(const Environment& environment, const Arguments& arguments) = nullptr;
};

/// Add new subcommands here: faces, mark, check, apply, simulate, run-cost, outline, templates, lettering-faces,
/// processes, study, test-strip, fit.
[[nodiscard]] std::span<const Command> commands();

[[nodiscard]] std::vector<Option> faces_options();
[[nodiscard]] Exit run_faces(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> mark_options();
[[nodiscard]] Exit run_mark(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> check_options();
[[nodiscard]] Exit run_check(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> apply_options();
[[nodiscard]] Exit run_apply(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> outline_options();
[[nodiscard]] Exit run_outline(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> templates_options();
[[nodiscard]] Exit run_templates(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> simulate_options();
[[nodiscard]] Exit run_simulate(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> run_cost_options();
[[nodiscard]] Exit run_run_cost(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> study_options();
[[nodiscard]] Exit run_study(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> test_strip_options();
[[nodiscard]] Exit run_test_strip(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> fit_options();
[[nodiscard]] Exit run_fit(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> lettering_faces_options();
[[nodiscard]] Exit run_lettering_faces(const Environment& environment, const Arguments& arguments);
[[nodiscard]] std::vector<Option> processes_options();
[[nodiscard]] Exit run_processes(const Environment& environment, const Arguments& arguments);

/// The whole program after main() has started the reader. `words`: the arguments without the program's name.
[[nodiscard]] Exit run(const Environment& environment, std::span<const std::string> words);

/// One line: message and hint; returns `exit`.
Exit complain(const Environment& environment, const Error& error, Exit exit);

} // namespace touchmark::cli
