// SPDX-License-Identifier: MIT
#include "core/job/clear_face.h"

#include "core/job/clear_face_file.h"
#include "core/job/file_format.h"

#include <algorithm>

namespace touchmark::job {
namespace {

using Out = nlohmann::ordered_json;

struct Row {
    ClearReason reason;
    std::string_view key, title;
};
constexpr std::array rows{Row{ClearReason::sealing, "sealing", "Sealing face"},
                          Row{ClearReason::mating, "mating", "Mating face"},
                          Row{ClearReason::load_bearing, "load_bearing", "Load-bearing face"},
                          Row{ClearReason::other, "other", "Kept clear"}};
static_assert(rows.size() == clear_reasons.size());

const Row& row_of(ClearReason reason) {
    return *std::ranges::find(rows, reason, &Row::reason);
}

Status check(const ClearFace& face) {
    if (face.face < 0 || face.face > most_faces)
        return fail("job.out_of_range", "A part has no face with the number " + std::to_string(face.face) + ".");
    const auto control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; };
    if (face.note.size() > longest_name || !json::is_utf8(face.note) || std::ranges::any_of(face.note, control))
        return fail("job.out_of_range", "The note on a face that is kept clear is not one line of UTF-8 with at most " +
                                            std::to_string(longest_name) + " bytes.");
    return {};
}

} // namespace

std::string_view key_of(ClearReason reason) {
    return row_of(reason).key;
}

std::string_view title_of(ClearReason reason) {
    return row_of(reason).title;
}

std::optional<ClearReason> clear_reason_from(std::string_view key) {
    const auto row = std::ranges::find(rows, key, &Row::key);
    return row == rows.end() ? std::nullopt : std::optional(row->reason);
}

Result<Job> keep_clear(Job job, ClearFace face) {
    if (const Status good = check(face); !good) return std::unexpected(good.error());
    const auto at = std::ranges::lower_bound(job.kept_clear, face.face, {}, &ClearFace::face);
    if (at != job.kept_clear.end() && at->face == face.face)
        *at = std::move(face);
    else
        job.kept_clear.insert(at, std::move(face));
    return job;
}

Result<Job> release(Job job, int face) {
    std::erase_if(job.kept_clear, [&](const ClearFace& kept) { return kept.face == face; });
    return job;
}

const ClearFace* kept_clear(const Job& job, int face) {
    const auto at = std::ranges::find(job.kept_clear, face, &ClearFace::face);
    return at == job.kept_clear.end() ? nullptr : &*at;
}

Out write_kept_clear(const Job& job) {
    Out out = Out::array();
    for (const ClearFace& kept : job.kept_clear) {
        Out one = {
            {"face", kept.face}, {"fingerprint", kept.fingerprint.digest.text()}, {"reason", key_of(kept.reason)}};
        if (!kept.note.empty()) one["note"] = kept.note;
        out.push_back(std::move(one));
    }
    return out;
}

void read_kept_clear(const json::Node& root, Job& job) {
    const auto given = root.find(kept_clear_key);
    if (!given) return;
    for (const json::Node& node : given->elements()) {
        node.allow_only({"face", "fingerprint", "reason", "note"});
        ClearFace kept;
        kept.face = static_cast<int>(node["face"].integer(0, most_faces));
        if (const auto fingerprint = node.find("fingerprint")) {
            const auto digest = Digest::from_text(fingerprint->text());
            if (!digest) fingerprint->refuse("must be 32 hexadecimal digits");
            kept.fingerprint.digest = digest.value_or(Digest{});
        }
        const auto reason = clear_reason_from(node["reason"].text());
        if (!reason) node["reason"].refuse("is no reason that this program knows");
        kept.reason = reason.value_or(ClearReason::other);
        if (const auto note = node.find("note")) kept.note = note->text();
        if (kept_clear(job, kept.face)) node["face"].refuse("is kept clear twice");
        if (root.trouble()) return;
        auto added = keep_clear(std::move(job), std::move(kept));
        if (!added) return root.trouble().say_range(node.path() + ": " + added.error().message);
        job = *std::move(added);
    }
}

Out kept_clear_schema() {
    Out reasons = Out::array();
    for (const Row& row : rows)
        reasons.push_back(row.key);
    return {{"type", "array"},
            {"description", "Faces that the engineer keeps clear of marks."},
            {"items",
             {{"type", "object"},
              {"additionalProperties", false},
              {"required", {"face", "reason"}},
              {"properties",
               {{"face", {{"type", "integer"}, {"minimum", 0}, {"maximum", most_faces}}},
                {"fingerprint",
                 {{"type", "string"},
                  {"pattern", "^[0-9a-f]{32}$"},
                  {"description", "Finds the face again in a new revision of the part."}}},
                {"reason", {{"enum", reasons}}},
                {"note",
                 {{"type", "string"},
                  {"maxLength", static_cast<int>(longest_name)},
                  {"description", "In the engineer's words, one line."}}}}}}}};
}

} // namespace touchmark::job
