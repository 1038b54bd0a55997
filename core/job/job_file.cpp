// SPDX-License-Identifier: MIT
#include "core/job/job_file.h"

#include "core/base/atomic_file.h"
#include "core/base/json.h"
#include "core/job/clear_face_file.h"
#include "core/job/file_format.h"
#include "core/job/variables_file.h"

#include <algorithm>
#include <set>

namespace touchmark::job {
namespace {

namespace fs = std::filesystem;
using Out = nlohmann::ordered_json;
using Kind = Parameter::Kind;

constexpr char hex_digits[] = "0123456789abcdef";

std::string hex_of(std::string_view bytes) {
    std::string hex;
    for (const char c : bytes) {
        hex += hex_digits[static_cast<unsigned char>(c) >> 4];
        hex += hex_digits[static_cast<unsigned char>(c) & 15];
    }
    return hex;
}

std::optional<std::string> bytes_of(std::string_view hex) {
    std::string bytes;
    if (hex.size() % 2 != 0) return std::nullopt;
    for (std::size_t i = 0; i < hex.size(); i += 2) {
        const auto digit = [&](std::size_t at) { return std::string_view(hex_digits).find(hex[at]); };
        if (digit(i) > 15 || digit(i + 1) > 15) return std::nullopt;
        bytes += static_cast<char>(digit(i) * 16 + digit(i + 1));
    }
    return bytes;
}

/// Relative while the part lies below the job's folder or up to three folders above it: then both move together.
fs::path near_path(const fs::path& file, const fs::path& beside) {
    if (file.empty() || !file.is_absolute() || !beside.is_absolute()) return file;
    const fs::path relative = file.lexically_normal().lexically_relative(beside.lexically_normal());
    const auto up = std::count(relative.begin(), relative.end(), fs::path(".."));
    const bool same_tree = std::distance(beside.begin(), beside.end()) - up > 1; // more in common than the root
    return relative.empty() || up > 3 || (up > 0 && !same_tree) ? file : relative;
}

Out write_part(const PartReference& part, const fs::path& beside) {
    Out out;
    const std::string path = near_path(part.file, beside).generic_string();
    // A file name on disk is bytes; JSON holds only UTF-8.
    if (json::is_utf8(path))
        out["file"] = path;
    else
        out["file_bytes"] = hex_of(path);
    out["digest"] = part.digest.text();
    return out;
}

Out write_mark(const Mark& mark) {
    Out out = {{"id", mark.id},
               {"name", mark.name},
               {"face", mark.anchor.face},
               {"fingerprint", mark.anchor.fingerprint.digest.text()}};
    for (const Parameter& row : parameters()) {
        if (!has(mark, row)) continue;
        if (row.key == weight_key) {
            out[weight_key] = std::get<content::Text>(mark.content).weight;
            continue;
        }
        std::visit([&](const auto& value) { out[std::string(row.key)] = value; }, row.get(mark));
    }
    return out;
}

Digest read_digest(const json::Node& node) {
    const std::string text = node.text();
    const std::optional<Digest> digest = Digest::from_text(text);
    if (!digest) node.refuse("must be 32 hexadecimal digits");
    return digest.value_or(Digest{});
}

PartReference read_part(const json::Node& node, const fs::path& beside) {
    node.allow_only({"file", "file_bytes", "digest"});
    PartReference part;
    std::string path;
    if (const auto bytes = node.find("file_bytes")) {
        const std::optional<std::string> decoded = bytes_of(bytes->text());
        if (!decoded) bytes->refuse("must be pairs of hexadecimal digits");
        path = decoded.value_or("");
        if (node.find("file")) bytes->refuse("stands beside \"file\"", "Keep one of the two.");
    } else {
        path = node["file"].text();
    }
    if (path.find('\0') != std::string::npos) node["file"].refuse("holds a null character");
    part.file = path;
    if (!part.file.empty() && part.file.is_relative()) part.file = (beside / part.file).lexically_normal();
    if (const auto digest = node.find("digest")) part.digest = read_digest(*digest);
    return part;
}

plate::Pose read_pose(const json::Node& node) {
    node.allow_only({"down", "turn"});
    plate::Pose pose;
    const std::vector<json::Node> down = node["down"].elements();
    if (down.size() != 3) {
        node["down"].refuse("must hold three numbers");
        return pose;
    }
    pose.down = {down[0].number(-1e6, 1e6), down[1].number(-1e6, 1e6), down[2].number(-1e6, 1e6)};
    pose.turn = Degrees(node["turn"].number(-360, 360));
    const Result<plate::Pose> good = accepted(pose);
    if (!good && !node.trouble()) node["down"].refuse("must have a length");
    return good.value_or(pose);
}

void read_parameter(const json::Node& node, const Parameter& row, Mark& mark) {
    if (row.key == weight_key) {
        std::get<content::Text>(mark.content).weight =
            static_cast<int>(node.integer(static_cast<std::int64_t>(row.least), static_cast<std::int64_t>(row.most)));
        return;
    }
    Value value;
    if (row.kind == Kind::length || row.kind == Kind::angle || row.kind == Kind::factor)
        value = node.number(row.least, row.most);
    else
        value = node.text(4 * static_cast<std::size_t>(std::max(row.most, 100.0))); // UTF-8: at most four bytes each
    if (node.trouble()) return;
    if (const Status good = check_value(row, value); !good)
        node.trouble().say_range(node.path() + ": " + good.error().message);
    else
        row.set(mark, value);
}

/// Of which kind it is, and a code of which symbology, decides which values it may have.
void read_kind(const json::Node& node, Mark& mark) {
    (void)node[kind_key];
    for (const std::string_view key : {std::string_view(kind_key), std::string_view(symbology_key)}) {
        if (node.trouble()) return;
        const Parameter& row = *parameter(key);
        if (const auto given = node.find(key); given && has(mark, row)) read_parameter(*given, row, mark);
    }
    std::vector<std::string_view> keys{"id", "name", "face", "fingerprint"};
    for (const Parameter& row : parameters())
        if (has(mark, row)) keys.push_back(row.key);
    node.allow_only(keys);
}

Mark read_mark(const json::Node& node) {
    Mark mark;
    read_kind(node, mark);
    mark.id = node["id"].text();
    mark.name = node["name"].text();
    mark.anchor.face = static_cast<int>(node["face"].integer(0, most_faces));
    if (const auto fingerprint = node.find("fingerprint")) mark.anchor.fingerprint.digest = read_digest(*fingerprint);
    for (const Parameter& row : parameters()) {
        if (row.key == kind_key || row.key == symbology_key || !has(mark, row)) continue;
        if (row.key == "text") (void)node[row.key]; // the one value without a sensible default
        if (const auto given = node.find(row.key)) read_parameter(*given, row, mark);
    }
    if (node.trouble()) return mark;
    const Result<Mark> good = accepted(mark);
    if (!good) node.trouble().say_range(node.path() + ": " + good.error().message);
    return good.value_or(mark);
}

/// The number in "m12", 0 when it is no such id.
int number_of(const std::string& id) {
    if (id.size() < 2 || id.size() > 10 || id[0] != 'm' || id[1] == '0') return 0;
    int number = 0;
    for (const char c : id.substr(1)) {
        if (c < '0' || c > '9') return 0;
        number = number * 10 + (c - '0');
    }
    return number;
}

void read_marks(const json::Node& root, Job& job) {
    const std::vector<json::Node> nodes = root["marks"].elements();
    if (nodes.size() > most_marks) root["marks"].refuse("holds more than " + std::to_string(most_marks) + " marks");
    std::set<std::string> seen;
    int next = 1;
    for (const json::Node& node : nodes) {
        if (root.trouble()) return;
        Mark mark = read_mark(node);
        if (root.trouble()) return;
        if (number_of(mark.id) == 0) node["id"].refuse("must be \"m\" and a number");
        if (!seen.insert(mark.id).second) node["id"].refuse("is given to two marks");
        next = std::max(next, number_of(mark.id) + 1);
        job.marks.push_back(std::move(mark));
    }
    job.next_mark = next;
    if (const auto given = root.find("next_mark")) {
        job.next_mark = static_cast<int>(given->integer(1, most_ids));
        if (job.next_mark < next)
            given->refuse("must be larger than every mark's number, for a number is never reused");
    }
}

/// Before version 2 a brace in a text was nothing but a brace.
void keep_braces(Job& job) {
    for (Mark& mark : job.marks)
        if (std::string* text = content::text_with_variables(mark.content)) *text = content::escaped(*text);
}

fs::path folder_of(const fs::path& file) {
    std::error_code error;
    const fs::path whole = fs::absolute(file, error);
    return (error ? file : whole).lexically_normal().parent_path();
}

} // namespace

std::string to_json(const Job& job, const fs::path& beside) {
    const Vec3 down = job.pose.down;
    Out out = {{"format", format_name},
               {"version", newest_version},
               {"part", write_part(job.part, beside)},
               {"process", job.process},
               {"pose", {{"down", {down.x, down.y, down.z}}, {"turn", job.pose.turn.value}}},
               {"next_mark", job.next_mark},
               {"marks", Out::array()}};
    for (const Mark& mark : job.marks)
        out["marks"].push_back(write_mark(mark));
    if (!job.variables.list.empty()) out[variables_key] = write_variables(job.variables);
    if (!job.kept_clear.empty()) out[kept_clear_key] = write_kept_clear(job);
    if (job.variables.table) out[table_key] = write_table(*job.variables.table);
    return out.dump(2) + "\n";
}

Result<Job> from_json(std::string_view text, const fs::path& beside) {
    const Result<json::Value> parsed = json::parse(text, "job.malformed", {.bytes = largest_file});
    if (!parsed) return std::unexpected(parsed.error());
    json::Trouble trouble("job.malformed", "job.out_of_range");
    const json::Node root(*parsed, "", trouble);
    const int version = json::read_version(root, {.name = format_name,
                                                  .newest = newest_version,
                                                  .newer_code = "job.newer_version",
                                                  .is_a = "a Touchmark job",
                                                  .called = "job",
                                                  .newer_hint = "Open it with a newer Touchmark."});
    std::vector<std::string_view> keys{"$schema", "format",    "version", "part",        "process",
                                       "pose",    "next_mark", "marks",   kept_clear_key};
    if (version >= first_version_with_variables) keys.insert(keys.end(), {variables_key, table_key});
    root.allow_only(keys);

    Job job;
    job.part = read_part(root["part"], beside);
    if (const auto pose = root.find("pose")) job.pose = read_pose(*pose);
    const json::Node process = root["process"];
    const std::string name = process.text();
    read_marks(root, job);
    read_kept_clear(root, job);
    if (version < first_version_with_variables)
        keep_braces(job);
    else
        job.variables = read_variables(root);
    if (trouble) return std::unexpected(trouble.error());
    Result<Job> whole = set_process(std::move(job), name);
    if (!whole) whole.error() = {"job.out_of_range", "process: " + whole.error().message, ""};
    return whole;
}

Status save_job(const Job& job, const fs::path& file) {
    return write_text_atomically(file, to_json(job, folder_of(file)));
}

Result<Job> load_job(const fs::path& file) {
    const Result<std::string> text = read_text(file, largest_file);
    if (!text) return std::unexpected(text.error());
    Result<Job> job = from_json(*text, folder_of(file));
    if (!job) job.error().message = file.filename().string() + ": " + job.error().message;
    return job;
}

} // namespace touchmark::job
