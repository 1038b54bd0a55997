// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/code.h"
#include "core/content/variable_kinds.h"
#include "core/job/parameter.h"
#include "core/job/variables.h"

#include <gtest/gtest.h>

#include <random>

namespace touchmark::test {

/// Jobs that only edits made, with every value anywhere in its range.
class RandomJob {
public:
    explicit RandomJob(unsigned seed) : random_(seed) {}

    job::Job operator()() {
        job::Job made;
        made.part = {"/parts/" + name() + ".step", {word(), word()}};
        for (int i = whole(0, 6); i > 0; --i) {
            made = taken(job::add_mark(made, mark()));
            if (whole(0, 4) == 0) made = taken(job::remove_mark(made, made.marks.front().id));
        }
        for (int i = whole(0, 2); i > 0; --i)
            made = taken(job::keep_clear(made, {whole(0, 50),
                                                {Digest{word(), word()}},
                                                job::clear_reasons[static_cast<std::size_t>(whole(0, 3))],
                                                whole(0, 1) ? name() : ""}));
        for (int i = whole(0, 3); i > 0; --i)
            made = taken(job::add_variable(made, variable(made)));
        if (whole(0, 2) == 0)
            made = taken(job::set_table(made, content::Table::read(name(), "a,b\r\n1,\"2\n\"\r\n").value()));
        made = taken(job::set_pose(made, {{number(-1, 1), number(-1, 1), number(0.1, 1)}, Degrees(number(-360, 360))}));
        return taken(job::set_process(made, name()));
    }

    double number(double least, double most) { return std::uniform_real_distribution<double>(least, most)(random_); }
    int whole(int least, int most) { return std::uniform_int_distribution<int>(least, most)(random_); }

private:
    static job::Job taken(Result<job::Job> job) {
        if (!job) throw std::runtime_error(job.error().message);
        return *std::move(job);
    }
    std::uint64_t word() { return std::uniform_int_distribution<std::uint64_t>()(random_); }

    std::string name() {
        static const char* const pieces[] = {"a", "Ä", "€", "𝛀", "\"", "\\", " ", "/", "'", "漢", "é", "z"};
        std::string text = "n";
        for (int i = whole(0, 12); i > 0; --i)
            text += pieces[static_cast<std::size_t>(whole(0, 11))];
        return text + "n";
    }

    content::Variable variable(const job::Job& job) {
        const auto rows = content::variable_kinds();
        const auto& row = rows[static_cast<std::size_t>(whole(0, static_cast<int>(rows.size()) - 1))];
        content::Variable made{content::free_name(job.variables, row.name), row.standard};
        if (auto* text = std::get_if<content::FixedText>(&made.kind)) text->text = name();
        if (auto* column = std::get_if<content::Column>(&made.kind)) column->title = name();
        if (auto* check = std::get_if<content::CheckDigit>(&made.kind)) check->scheme = content::CheckScheme::mod_97_10;
        if (auto* serial = std::get_if<content::Serial>(&made.kind))
            *serial = {.start = whole(0, 1000), .step = whole(1, 9), .count = whole(1, 900), .digits = whole(5, 18)};
        if (auto* date = std::get_if<content::Date>(&made.kind); date && whole(0, 1) != 0)
            date->day = content::Day(std::chrono::sys_days(std::chrono::days(whole(0, 30'000))));
        return made;
    }

    job::Mark mark() {
        job::Mark mark;
        mark.name = name();
        for (const job::Parameter& row : job::parameters()) {
            using Kind = job::Parameter::Kind;
            if (!job::has(mark, row)) continue;
            if (row.kind == Kind::length || row.kind == Kind::angle || row.kind == Kind::factor)
                row.set(mark, number(row.least, row.most));
            else if (row.kind == Kind::choice)
                row.set(mark,
                        std::string(
                            row.choices[static_cast<std::size_t>(whole(0, static_cast<int>(row.choices.size()) - 1))]
                                .first));
            else
                row.set(mark, name() + (whole(0, 1) != 0 ? "" : "\t" + name()));
        }
        if (auto* text = std::get_if<content::Text>(&mark.content)) {
            text->text += "\n" + name();
            text->weight = whole(1, 1000);
        }
        mark.anchor.face = whole(0, 5000);
        mark.anchor.fingerprint.digest = {word(), word()};
        return mark;
    }

    std::mt19937 random_;
};

/// A mark of a kind of content that has the value.
inline job::Mark mark_that_has(const job::Parameter& row) {
    job::Mark mark;
    mark.content = content::Text{.text = "AB-12"};
    if (job::has(mark, row)) return mark;
    for (const content::SymbologyRow& symbology : content::symbologies()) {
        mark.content = content::Code{.symbology = symbology.symbology, .message = "AB-12"};
        if (job::has(mark, row)) return mark;
    }
    mark.content = content::Art{.name = "arrow.svg"};
    return mark;
}

/// One of every kind, in the order of their table.
inline job::Job job_with_every_variable() {
    job::Job made;
    made.part.file = "/parts/box.step";
    for (const content::VariableKindRow& row : content::variable_kinds())
        made = job::add_variable(made, {std::string(row.name), row.standard}).value();
    return job::set_table(made, content::Table::read("lots.csv", "Lot\nA7\n").value()).value();
}

/// A job with two marks.
inline job::Job small_job() {
    job::Job made;
    made.part.file = "/parts/box.step";
    job::Mark mark;
    mark.content = content::Text{.text = "AB-12"};
    mark.anchor.face = 3;
    mark.anchor.fingerprint.digest = {1, 2};
    made = *job::add_mark(made, mark);
    mark.mode = Mode::raise;
    return *job::add_mark(made, mark);
}

} // namespace touchmark::test
