// SPDX-License-Identifier: MIT
#include "core/pipeline/extras.h"

#include "core/pipeline/layers.h"

#include <algorithm>

namespace touchmark::pipeline {

Result<std::vector<MarkExtra>> extras_of(const Evaluation& evaluation, const process::Process& process,
                                         const Progress& progress) {
    std::vector<MarkExtra> out;
    for (std::size_t i = 0; i < evaluation.marks.size(); ++i) {
        progress.report(static_cast<double>(i) / static_cast<double>(evaluation.marks.size()), "Laying layers");
        const auto layers = print_layers(evaluation, i, process, progress, print::Want::counts);
        MarkExtra own{evaluation.marks[i].mark, {}, {}};
        if (layers)
            own.extra = layers->extra;
        else if (layers.error().code == cancelled_code || layers.error().code == "print.no_figures")
            return std::unexpected(layers.error());
        else
            own.trouble = layers.error();
        out.push_back(std::move(own));
    }
    return out;
}

print::Extra sum_of(std::span<const MarkExtra> marks) {
    print::Extra sum;
    double most = 0, own_of_waiting = 0;
    for (const MarkExtra& mark : marks) {
        if (!mark.extra) continue;
        sum += *mark.extra;
        if (mark.extra->waited_s <= 0) continue;
        most = std::max(most, mark.extra->seconds);
        own_of_waiting += mark.extra->seconds - mark.extra->waited_s;
    }
    const double waited = std::max(0.0, most - own_of_waiting);
    sum.seconds += waited - sum.waited_s;
    sum.waited_s = waited;
    return sum;
}

run::EventsOfMark events_by_name(const job::Job& job, std::vector<MarkExtra> marks) {
    return [names = job.marks, marks = std::move(marks)](std::string_view name) -> std::optional<run::ByEvent<double>> {
        for (std::size_t i = 0; i < names.size(); ++i)
            if (names[i].name == name && marks[i].extra) return run::events_of(*marks[i].extra);
        return std::nullopt;
    };
}

} // namespace touchmark::pipeline
