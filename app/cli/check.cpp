// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"

#include <nlohmann/json.hpp>

namespace touchmark::cli {

std::vector<Option> check_options() {
    return {{"--json", "", "Prints one JSON object instead of sentences.", false}};
}

Exit run_check(const Environment& environment, const Arguments& arguments) {
    const auto opened = open_job(environment, arguments.operand(0));
    if (!opened) return complain(environment, opened.error().error, opened.error().exit);
    const auto evaluation = opened->workspace->evaluator.evaluate(opened->job, opened->workspace->around, Progress(),
                                                                  pipeline::Depth::tried);
    if (!evaluation) return complain(environment, evaluation.error(), Exit::not_made);
    if (arguments.has("--json"))
        print_json(environment.out, {{"findings", findings_json((*evaluation)->findings)}});
    else
        print_findings(environment.out, (*evaluation)->findings);
    return exit_for((*evaluation)->findings);
}

} // namespace touchmark::cli
