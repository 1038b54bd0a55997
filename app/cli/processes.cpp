// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"

#include <nlohmann/json.hpp>

namespace touchmark::cli {

std::vector<Option> processes_options() {
    return {{"--json", "", "Prints one JSON object instead of lines.", false}};
}

Exit run_processes(const Environment& environment, const Arguments& arguments) {
    const auto processes = all_processes();
    if (!processes) return complain(environment, processes.error(), Exit::input);
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const process::Process& process : *processes) {
        list.push_back({{"id", process.id}, {"title", process.title}, {"nozzle_mm", process.nozzle_mm.value}});
        if (!arguments.has("--json")) environment.out << process.id << "  " << process.title << '\n';
    }
    if (arguments.has("--json")) print_json(environment.out, {{"processes", list}});
    return Exit::done;
}

} // namespace touchmark::cli
