// SPDX-License-Identifier: MIT
#include "core/job/job.h"

#include "core/base/json.h"
#include "core/base/number_text.h"
#include "core/job/file_format.h"

#include <algorithm>
#include <cmath>

namespace touchmark::job {
namespace {

std::unexpected<Error> out_of_range(std::string message) {
    return fail("job.out_of_range", std::move(message));
}

/// (-180, 180]; a turn already there keeps its every bit.
Degrees principal(Degrees turn) {
    if (turn.value > -180 && turn.value <= 180) return turn;
    const double value = std::remainder(turn.value, 360.0);
    return Degrees(value == -180.0 ? 180.0 : value);
}

Status check_name(std::string_view what, const std::string& name) {
    if (name.empty()) return out_of_range(std::string(what) + " is empty.");
    if (name.size() > longest_name)
        return out_of_range(std::string(what) + " is longer than " + std::to_string(longest_name) + " bytes.");
    if (!json::is_utf8(name)) return out_of_range(std::string(what) + " is not UTF-8.");
    if (std::any_of(name.begin(), name.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }))
        return out_of_range(std::string(what) + " holds a control character.");
    return {};
}

Result<std::size_t> index_of(const Job& job, std::string_view mark) {
    for (std::size_t i = 0; i < job.marks.size(); ++i)
        if (job.marks[i].id == mark) return i;
    return fail("job.no_mark", "There is no mark " + std::string(mark) + ".");
}

/// Changes one mark and accepts what came out, or leaves everything as it was.
template <class Change> Result<Job> changed(Job job, std::string_view mark, Change change) {
    const Result<std::size_t> at = index_of(job, mark);
    if (!at) return std::unexpected(at.error());
    Mark now = job.marks[*at];
    change(now);
    Result<Mark> good = accepted(std::move(now));
    if (!good) return std::unexpected(good.error());
    job.marks[*at] = *std::move(good);
    return job;
}

/// Enough to lie clear of the original: the lines of lettering, a usual code, a drawing.
double height_of(const content::Content& content) {
    const auto* text = std::get_if<content::Text>(&content);
    constexpr double modules_of_a_code = 24;
    if (std::holds_alternative<content::Art>(content)) return content::size_of(content).value;
    if (!text) return content::size_of(content).value * modules_of_a_code;
    const auto lines = 1 + std::count(text->text.begin(), text->text.end(), '\n');
    return text->cap_height.value * text->line_spacing * static_cast<double>(lines);
}

Status check_room(const Job& job) {
    if (job.marks.size() >= most_marks)
        return out_of_range("A job holds at most " + std::to_string(most_marks) + " marks.");
    return {};
}

} // namespace

const Mark* Job::find(std::string_view mark) const {
    const auto at = std::find_if(marks.begin(), marks.end(), [&](const Mark& m) { return m.id == mark; });
    return at == marks.end() ? nullptr : &*at;
}

Result<Mark> accepted(Mark mark) {
    if (Status good = check_name("A mark's name", mark.name); !good) return std::unexpected(good.error());
    for (const Parameter& row : parameters()) {
        if (row.key == weight_key || !has(mark, row)) continue; // a weight is any whole number, see below
        const Value value = row.get(mark);
        if (row.kind == Parameter::Kind::text) row.set(mark, value);
        if (Status good = check_value(row, value); !good) return std::unexpected(good.error());
    }
    if (const auto* text = std::get_if<content::Text>(&mark.content); text && (text->weight < 1 || text->weight > 1000))
        return out_of_range("Weight is " + std::to_string(text->weight) + "; it must be from 1 to 1000.");
    if (mark.anchor.face < 0 || mark.anchor.face > most_faces)
        return out_of_range("A part has no face with the number " + std::to_string(mark.anchor.face) + ".");
    mark.anchor.turn = principal(mark.anchor.turn);
    return mark;
}

Result<plate::Pose> accepted(plate::Pose pose) {
    const double size = length(pose.down);
    if (!(size > 1e-9) || !std::isfinite(size)) return out_of_range("The direction that points down has no length.");
    if (std::abs(size - 1) > 1e-9) pose.down = pose.down * (1 / size);
    if (!(std::abs(pose.turn.value) <= 1e6)) return out_of_range("The part's turn on the plate is no angle.");
    pose.turn = principal(pose.turn);
    return pose;
}

Result<Job> add_mark(Job job, Mark mark) {
    if (Status room = check_room(job); !room) return std::unexpected(room.error());
    const std::string number = std::to_string(job.next_mark);
    mark.id = "m" + number;
    if (mark.name.empty()) mark.name = "Mark " + number;
    Result<Mark> good = accepted(std::move(mark));
    if (!good) return std::unexpected(good.error());
    job.marks.push_back(*std::move(good));
    ++job.next_mark;
    return job;
}

Result<Job> duplicate_mark(Job job, std::string_view mark) {
    const Result<std::size_t> at = index_of(job, mark);
    if (!at) return std::unexpected(at.error());
    if (Status room = check_room(job); !room) return std::unexpected(room.error());
    Mark copy = job.marks[*at];
    copy.id = "m" + std::to_string(job.next_mark++);
    copy.name = copy.name.size() + 5 <= longest_name ? copy.name + " copy" : copy.name;
    const double down = height_of(copy.content);
    const double turn = copy.anchor.turn.radians();
    copy.anchor.at = copy.anchor.at + Vec2{std::sin(turn), -std::cos(turn)} * down;
    Result<Mark> good = accepted(std::move(copy));
    if (!good) return std::unexpected(good.error());
    job.marks.insert(job.marks.begin() + static_cast<std::ptrdiff_t>(*at) + 1, *std::move(good));
    return job;
}

Result<Job> remove_mark(Job job, std::string_view mark) {
    const Result<std::size_t> at = index_of(job, mark);
    if (!at) return std::unexpected(at.error());
    job.marks.erase(job.marks.begin() + static_cast<std::ptrdiff_t>(*at));
    return job;
}

Result<Job> rename_mark(Job job, std::string_view mark, std::string name) {
    return changed(std::move(job), mark, [&](Mark& m) { m.name = std::move(name); });
}

Result<Job> move_mark(Job job, std::string_view mark, Anchor anchor) {
    return changed(std::move(job), mark, [&](Mark& m) { m.anchor = anchor; });
}

Result<Job> set_content(Job job, std::string_view mark, content::Content content) {
    return changed(std::move(job), mark, [&](Mark& m) { m.content = std::move(content); });
}

Result<Job> set_mode(Job job, std::string_view mark, Mode mode) {
    return changed(std::move(job), mark, [&](Mark& m) { m.mode = mode; });
}

Result<Job> set_pose(Job job, plate::Pose pose) {
    const Result<plate::Pose> good = accepted(pose);
    if (!good) return std::unexpected(good.error());
    job.pose = *good;
    return job;
}

Result<Job> set_process(Job job, std::string process) {
    if (Status good = check_name("The process", process); !good) return std::unexpected(good.error());
    job.process = std::move(process);
    return job;
}

namespace {

/// Whether the face is there; then with its index and fingerprint as they are now.
bool rebind_face(const part::Part& part, int& index, part::Fingerprint& fingerprint) {
    const auto& faces = part.faces();
    const bool in_range = index >= 0 && index < static_cast<int>(faces.size());
    std::optional<int> face;
    if (fingerprint == part::Fingerprint{})
        face = in_range ? std::optional(index) : std::nullopt;
    else
        face = part::find_face(part, fingerprint, index);
    if (!face) return false;
    index = *face;
    fingerprint = faces[static_cast<std::size_t>(*face)].fingerprint;
    return true;
}

} // namespace

Rebound rebind(Job job, const part::Part& part) {
    Rebound rebound{std::move(job), {}};
    for (Mark& mark : rebound.job.marks)
        if (!rebind_face(part, mark.anchor.face, mark.anchor.fingerprint)) rebound.lost.push_back(mark.id);
    std::vector<ClearFace> kept = std::exchange(rebound.job.kept_clear, {});
    for (ClearFace& face : kept) {
        const bool found = rebind_face(part, face.face, face.fingerprint);
        if (!found || job::kept_clear(rebound.job, face.face))
            rebound.lost_faces.push_back(std::move(face));
        else if (auto with = keep_clear(rebound.job, face))
            rebound.job = *std::move(with);
    }
    return rebound;
}

} // namespace touchmark::job
