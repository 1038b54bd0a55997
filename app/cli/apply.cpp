// SPDX-License-Identifier: MIT
#include "app/cli/workspace.h"

namespace touchmark::cli {

std::vector<Option> apply_options() {
    return output_options();
}

Exit run_apply(const Environment& environment, const Arguments& arguments) {
    const auto opened = open_job(environment, arguments.operand(0));
    if (!opened) return complain(environment, opened.error().error, opened.error().exit);
    return deliver(environment, arguments, *opened->workspace, opened->job);
}

} // namespace touchmark::cli
