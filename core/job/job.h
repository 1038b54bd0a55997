// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"
#include "core/content/variables.h"
#include "core/job/clear_face.h"
#include "core/part/part.h"
#include "core/plate/plate.h"

#include <functional>

namespace touchmark::job {

/// Where a mark sits: a face, a point on its map (mm from the map's origin), a turn about the normal seen from outside.
struct Anchor {
    int face = -1;
    part::Fingerprint fingerprint;
    Vec2 at;
    Degrees turn{0};

    friend bool operator==(const Anchor&, const Anchor&) = default;
};

/// Whether counters of a mark that is cut through are held.
enum class Bridging { none, automatic };

/// One identification on the part: content, mode, depth, anchor.
struct Mark {
    std::string id;   ///< unique in the job, never reused: "m1", "m2" …
    std::string name; ///< for people and for the faces in the STEP file
    content::Content content;
    Mode mode = Mode::engrave;
    Mm depth{0.5};
    Mm cover{0.8}; ///< hidden: material between the face and the void
    Laying laying = Laying::wrap;
    Floor floor = Floor::offset;       ///< of engrave and raise on a curved face
    Degrees draft{0};                  ///< of engrave, raise and inlay: how far the walls lean
    Mm floor_rounding{0};              ///< of engrave and inlay: radius between wall and floor
    Bridging bridges = Bridging::none; ///< through: strips of material that hold counters
    Mm bridge_width{0};                ///< 0: what the process finds comfortable
    Mm reading_distance{0};            ///< of lettering: from where it has to be read; 0: not said
    Anchor anchor;

    friend bool operator==(const Mark&, const Mark&) = default;
};

struct PartReference {
    std::filesystem::path file; ///< absolute in memory; in the job file relative to it where possible
    Digest digest;              ///< of the file's bytes when the marks were placed

    friend bool operator==(const PartReference&, const PartReference&) = default;
};

/// The saved document; the only thing that is edited. A value: copies are snapshots.
struct Job {
    PartReference part;
    std::vector<Mark> marks;
    plate::Pose pose;
    std::string process = "fff-0.4";
    int next_mark = 1;
    content::Variables variables{};      ///< what {name} stands for in the marks' texts
    std::vector<ClearFace> kept_clear{}; ///< faces that marks stay off, in the order of the faces

    friend bool operator==(const Job&, const Job&) = default;
    [[nodiscard]] const Mark* find(std::string_view mark) const;
};

/// An edit made later: what a fix or an undo step holds.
using Edit = std::function<Result<Job>(const Job&)>;

// Edits. An edit that changes nothing returns an equal job. Turns come out in (-180°, 180°], line ends as '\n',
// directions with length 1. Errors: "job.no_mark", "job.out_of_range" (names the value and its range),
// "job.unknown_parameter".
/// Gives the mark its id (and the name "Mark N" when it has none) and appends it.
[[nodiscard]] Result<Job> add_mark(Job job, Mark mark);
/// The copy comes right after the original, moved down by its own lines so that it does not lie on it; it is
/// marks.back() only when the original was. Its id is "m" followed by the next_mark of the job given.
[[nodiscard]] Result<Job> duplicate_mark(Job job, std::string_view mark);
[[nodiscard]] Result<Job> remove_mark(Job job, std::string_view mark);
[[nodiscard]] Result<Job> rename_mark(Job job, std::string_view mark, std::string name);
[[nodiscard]] Result<Job> move_mark(Job job, std::string_view mark, Anchor anchor);
[[nodiscard]] Result<Job> set_content(Job job, std::string_view mark, content::Content content);
[[nodiscard]] Result<Job> set_mode(Job job, std::string_view mark, Mode mode);
[[nodiscard]] Result<Job> set_pose(Job job, plate::Pose pose);
[[nodiscard]] Result<Job> set_process(Job job, std::string process);

/// A mark as an edit would leave it, with every value in range; what the edits and the job file have in common.
[[nodiscard]] Result<Mark> accepted(Mark mark);
[[nodiscard]] Result<plate::Pose> accepted(plate::Pose pose);

/// For each mark whose face moved in a new reading of the part: the anchor with the right index. Marks whose face is
/// gone keep their anchor and are listed. A mark without a fingerprint (written by hand) keeps its index and takes that
/// face's fingerprint. Faces that are kept clear alike; those that are gone are kept clear no longer.
struct Rebound {
    Job job;
    std::vector<std::string> lost;       ///< mark ids
    std::vector<ClearFace> lost_faces{}; ///< that were kept clear
};
[[nodiscard]] Rebound rebind(Job job, const part::Part& part);

} // namespace touchmark::job
