// SPDX-License-Identifier: MIT
#include "core/content/templates.h"
#include "app/cli/command.h"
#include "core/job/user_templates.h"

#include <ostream>

namespace touchmark::cli {

std::vector<Option> templates_options() {
    return {};
}

Exit run_templates(const Environment& environment, const Arguments&) {
    for (const content::Template& row : content::templates()) {
        environment.out << row.key << "  " << row.title << "\n  source: " << row.source
                        << "\n  to be approved by: " << row.approver << '\n';
        for (const content::TemplateField& field : row.fields) {
            environment.out << "  --set " << field.key << "=…  " << field.help;
            if (!field.standard.empty()) environment.out << " (" << field.standard << ")";
            environment.out << '\n';
        }
    }
    for (const std::string& name : job::template_names(job::template_folder()))
        environment.out << name << "  your own\n";
    return Exit::done;
}

} // namespace touchmark::cli
