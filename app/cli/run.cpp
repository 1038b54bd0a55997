// SPDX-License-Identifier: MIT
#include "app/cli/command.h"

#include <algorithm>
#include <array>
#include <iostream>

namespace touchmark::cli {
namespace {

constexpr std::string_view exit_help =
    "Exit status: 0 done; 1 done, with findings of the highest severity (still written); 2 wrong usage;\n"
    "3 input unusable; 4 could not be made or verified, nothing written.\n";

void print_help(std::ostream& out) {
    out << "Puts text on parts: reads a STEP part, marks it, says how the mark will print, writes the marked STEP.\n\n"
           "usage: touchmark-cli COMMAND ...\n\n";
    for (const Command& command : commands())
        out << "  " << command.name << std::string(17 - command.name.size(), ' ') << command.summary << '\n';
    out << "\n  --help     This text; touchmark-cli COMMAND --help for a command's options.\n  --version  The "
           "version.\n\n"
        << exit_help;
}

void print_help(std::ostream& out, const Command& command) {
    out << command.summary << "\n\nusage: touchmark-cli " << command.name;
    for (const std::string& operand : command.operands)
        out << ' ' << operand;
    const std::vector<Option> options = command.options();
    std::size_t widest = 0;
    for (const Option& option : options) {
        const std::string text = option.name + (option.value.empty() ? "" : " " + option.value);
        out << (option.required ? " " : " [") << text << (option.required ? "" : "]");
        widest = std::max(widest, text.size());
    }
    out << "\n\n";
    for (const Option& option : options) {
        const std::string text = option.name + (option.value.empty() ? "" : " " + option.value);
        out << "  " << text << std::string(widest + 2 - text.size(), ' ') << option.help << '\n';
    }
    out << "\nLengths are in mm; 1/8 in and 0.25 in are understood.\n" << exit_help;
}

Exit wrong_usage(const Environment& environment, Error error, std::string_view command) {
    error.hint = "See touchmark-cli " + std::string(command) + (command.empty() ? "" : " ") + "--help.";
    return complain(environment, error, Exit::usage);
}

} // namespace

std::span<const Command> commands() {
    static const std::array table{
        Command{"faces",
                "Lists a part's faces: kind, size, zone and the largest rectangle that fits.",
                {"PART"},
                faces_options,
                run_faces},
        Command{"mark", "Puts text on a face and writes the marked part.", {"PART"}, mark_options, run_mark},
        Command{"check", "Says how a job's marks will print.", {"JOB"}, check_options, run_check},
        Command{"apply", "Makes the marks of a job and writes the marked part.", {"JOB"}, apply_options, run_apply},
        Command{"simulate",
                "Prints a job's marks in simulation and says what comes out of them.",
                {"JOB"},
                simulate_options,
                run_simulate},
        Command{"run-cost",
                "Says what a job's marks cost over a run: rejects, hours, money; and what else would.",
                {"JOB"},
                run_cost_options,
                run_run_cost},
        Command{
            "outline", "Writes what a mark says as an SVG outline in millimetres.", {}, outline_options, run_outline},
        Command{"templates",
                "Lists the standing contents, their values, sources and who approves them.",
                {},
                templates_options,
                run_templates},
        Command{"study",
                "Holds the quick rules for strokes and gaps against the simulated print.",
                {},
                study_options,
                run_study},
        Command{"test-strip",
                "Makes a profile's test strip as a part to be printed, and the sheet for what comes out.",
                {},
                test_strip_options,
                run_test_strip},
        Command{"fit",
                "Fits a profile to a test strip's sheet and saves it as the shop's own.",
                {"SHEET"},
                fit_options,
                run_fit},
        Command{"lettering-faces",
                "Lists the fonts of this machine that print at a size, by what was measured on them.",
                {},
                lettering_faces_options,
                run_lettering_faces},
        Command{"processes", "Lists the process profiles.", {}, processes_options, run_processes},
    };
    return table;
}

Exit complain(const Environment& environment, const Error& error, Exit exit) {
    std::string line = "touchmark-cli: " + error.message + (error.hint.empty() ? "" : " " + error.hint);
    std::ranges::replace(line, '\n', ' ');
    environment.err << line << std::endl;
    return exit;
}

Exit run(const Environment& environment, std::span<const std::string> words) {
    if (words.empty()) return wrong_usage(environment, {"cli.usage", "Say what to do.", ""}, "");
    if (words[0] == "--help" || words[0] == "-h") return print_help(environment.out), Exit::done;
    if (words[0] == "--version") return environment.out << "touchmark-cli " TOUCHMARK_VERSION "\n", Exit::done;
    const auto command = std::ranges::find(commands(), words[0], &Command::name);
    if (command == commands().end())
        return wrong_usage(environment, {"cli.usage", "There is no command '" + words[0] + "'.", ""}, "");
    const auto rest = words.subspan(1);
    // Before "--" only: a text may well be "--help".
    for (std::size_t i = 0; i < rest.size() && rest[i] != "--"; ++i)
        if (rest[i] == "--help" && (i == 0 || rest[i - 1] != "--text"))
            return print_help(environment.out, *command), Exit::done;
    const auto arguments = parse_arguments(rest, command->options(), command->operands);
    if (!arguments) return wrong_usage(environment, arguments.error(), command->name);
    const Exit exit = command->run(environment, *arguments);
    environment.out.flush();
    return exit;
}

} // namespace touchmark::cli
