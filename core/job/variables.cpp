// SPDX-License-Identifier: MIT
#include "core/job/variables.h"

#include <algorithm>

namespace touchmark::job {
namespace {

Result<Job> checked(Job job) {
    if (Status good = check(job.variables); !good) return std::unexpected(good.error());
    return job;
}

std::unexpected<Error> no_variable(std::string_view name) {
    return fail("job.no_variable", "There is no variable {" + std::string(name) + "}.");
}

void rename(Job& job, std::string_view from, const std::string& to) {
    for (content::Variable& one : job.variables.list)
        if (auto* check = std::get_if<content::CheckDigit>(&one.kind); check && check->of == from) check->of = to;
    for (Mark& mark : job.marks)
        if (std::string* text = content::text_with_variables(mark.content))
            *text = content::with_renamed(*text, from, to);
}

} // namespace

Status check(const content::Variables& variables) {
    if (variables.list.size() > content::most_variables)
        return fail("job.out_of_range",
                    "A job holds at most " + std::to_string(content::most_variables) + " variables.");
    for (const content::Variable& one : variables.list) {
        if (Status good = content::check(one); !good) return good;
        if (variables.find(one.name) != &one)
            return fail("job.variable_exists", "There is a variable {" + one.name + "} already.",
                        "Give it another name.");
    }
    return {};
}

Result<Job> add_variable(Job job, content::Variable variable) {
    job.variables.list.push_back(std::move(variable));
    return checked(std::move(job));
}

Result<Job> set_variable(Job job, std::string_view name, content::Variable variable) {
    const auto at = std::ranges::find(job.variables.list, name, &content::Variable::name);
    if (at == job.variables.list.end()) return no_variable(name);
    const std::string to = variable.name;
    const std::string from(name);
    *at = std::move(variable);
    if (Status good = check(job.variables); !good) return std::unexpected(good.error());
    if (to != from) rename(job, from, to);
    return job;
}

Result<Job> remove_variable(Job job, std::string_view name) {
    if (std::erase_if(job.variables.list, [&](const content::Variable& one) { return one.name == name; }) == 0)
        return no_variable(name);
    return job;
}

Result<Job> set_table(Job job, content::TablePtr table) {
    job.variables.table = std::move(table);
    return job;
}

} // namespace touchmark::job
