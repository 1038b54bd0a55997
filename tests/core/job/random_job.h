// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/code.h"
#include "core/job/parameter.h"

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
