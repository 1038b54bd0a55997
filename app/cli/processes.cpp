// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "core/base/number_text.h"
#include "core/process/extrusion.h"
#include "core/process/figures.h"

#include <nlohmann/json.hpp>

namespace touchmark::cli {
namespace {

using nlohmann::ordered_json;
using process::Origin;
using process::Profile;

std::string_view key_of(Origin origin) {
    switch (origin) {
    case Origin::built_in:
        return "built_in";
    case Origin::composed:
        return "composed";
    case Origin::own:
        return "own";
    }
    std::unreachable();
}

std::string origin_words(const Profile& profile) {
    switch (profile.origin) {
    case Origin::built_in:
        return "comes along";
    case Origin::composed:
        return "comes along: " + profile.based_on + " with " + profile.material + ".json";
    case Origin::own:
        return "your own" + (profile.based_on.empty() ? "" : ", on " + profile.based_on) + ": " + profile.file.string();
    }
    std::unreachable();
}

ordered_json json_of(const Profile& profile) {
    const process::Process& process = profile.process;
    ordered_json out{{"id", process.id}, {"title", process.title}, {"material", process.material}};
    if (extrudes(process)) out["nozzle_mm"] = process.nozzle_mm.value;
    out["simulated"] = process.printing.has_value();
    out["origin"] = key_of(profile.origin);
    if (!profile.based_on.empty()) out["based_on"] = profile.based_on;
    out["file"] = profile.file.string();
    return out;
}

void warn_of(const Environment& environment, const process::Profiles& profiles) {
    for (const process::LeftOut& one : profiles.left_out)
        complain(environment,
                 {one.error.code, "Left out " + one.file.string() + ": " + one.error.message, one.error.hint},
                 Exit::input);
}

/// Whether an own profile gives this figure itself.
bool own_figure(const Profile& profile, std::string_view key) {
    return profile.differs && std::ranges::find(profile.differs->figures, key, &process::Adjustment::key) !=
                                  profile.differs->figures.end();
}

void print_figures(std::ostream& out, const Profile& profile) {
    const process::Process& process = profile.process;
    out << process.title << "\n" << process.material << "\n" << process.id << ", " << origin_words(profile) << "\n";
    if (!process.printing) out << "Judged by limits alone: printing in simulation is for extrusion only.\n";
    std::string group;
    for (const std::string& key : figure_keys(process)) {
        const process::FigureWords words = process::words_of(key);
        if (words.group != group) out << "\n" << (group = words.group) << "\n";
        const process::Sourced& figure = *figure_of(process, key);
        const std::string unit = process::kind_of(key)->unit;
        out << "  " << key << "  " << process::figure_text(figure.value) << (unit.empty() ? "" : " " + unit) << "  "
            << (figure.assumed && !figure.source.starts_with("assumed") ? "(assumed) " : "")
            << (own_figure(profile, key) ? "(your own) " : "") << figure.source << "\n";
    }
    if (!process.printing || process.printing->wedge.empty()) return;
    out << "\nStep wedge: " << process.printing->wedge_source << "\n";
    for (const process::WedgeStep& step : process.printing->wedge)
        out << "  " << process::figure_text(step.thickness_mm) << " mm  " << process::figure_text(step.log_transmission)
            << "\n";
}

ordered_json figures_json(const Profile& profile) {
    ordered_json out = json_of(profile), figures = ordered_json::object();
    const process::Process& process = profile.process;
    for (const std::string& key : figure_keys(process)) {
        const process::Sourced& figure = *figure_of(process, key);
        ordered_json& one = figures[key] = {{"value", figure.value}};
        if (const std::string unit = process::kind_of(key)->unit; !unit.empty()) one["unit"] = unit;
        one["source"] = figure.source;
        one["assumed"] = figure.assumed;
        if (own_figure(profile, key)) one["own"] = true;
    }
    out["figures"] = std::move(figures);
    if (process.printing && !process.printing->wedge.empty()) {
        ordered_json steps = ordered_json::array();
        for (const process::WedgeStep& step : process.printing->wedge)
            steps.push_back({{"thickness_mm", step.thickness_mm}, {"log_transmission", step.log_transmission}});
        out["wedge"] = {{"source", process.printing->wedge_source}, {"steps", std::move(steps)}};
    }
    return out;
}

Exit show(const Environment& environment, const Arguments& arguments, const process::Profiles& profiles) {
    const std::string id = arguments.value("--show");
    const Profile* profile = profiles.find(id);
    if (!profile) {
        const auto known = known_process({}, id); // says why
        return complain(environment, known.error(), Exit::usage);
    }
    if (arguments.has("--json"))
        print_json(environment.out, figures_json(*profile));
    else
        print_figures(environment.out, *profile);
    return Exit::done;
}

} // namespace

std::vector<Option> processes_options() {
    return {{"--show", "ID", "Every figure of one profile, with where it comes from.", false},
            {"--json", "", "Prints one JSON object instead of lines.", false}};
}

Exit run_processes(const Environment& environment, const Arguments& arguments) {
    const auto profiles = all_profiles();
    if (!profiles) return complain(environment, profiles.error(), Exit::input);
    if (arguments.has("--show")) return show(environment, arguments, *profiles);
    ordered_json list = ordered_json::array(), left_out = ordered_json::array();
    for (const Profile& profile : profiles->all) {
        list.push_back(json_of(profile));
        if (!arguments.has("--json"))
            environment.out << profile.process.id << "  " << profile.process.title << "  (" << origin_words(profile)
                            << ")\n";
    }
    for (const process::LeftOut& one : profiles->left_out)
        left_out.push_back({{"file", one.file.string()}, {"message", one.error.message}, {"hint", one.error.hint}});
    warn_of(environment, *profiles);
    if (arguments.has("--json")) print_json(environment.out, {{"processes", list}, {"left_out", left_out}});
    return Exit::done;
}

} // namespace touchmark::cli
