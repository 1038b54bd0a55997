// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/digest.h"
#include "core/base/progress.h"
#include "core/base/result.h"
#include "core/base/units.h"
#include "core/base/vector.h"

#include <array>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace touchmark::part {

enum class FaceKind { plane, cylinder, cone, sphere, torus, freeform };
[[nodiscard]] std::string_view key_of(FaceKind kind);

/// sRGB, 0…1.
struct Colour {
    float red = 0, green = 0, blue = 0;

    friend bool operator==(const Colour&, const Colour&) = default;
};

/// Names a face so that it is found again after the part was read anew or revised slightly: kind, size, place, bounds,
/// each rounded, folded into one digest. Equal faces of a pattern differ by their place.
struct Fingerprint {
    Digest digest;

    friend bool operator==(const Fingerprint&, const Fingerprint&) = default;
};

/// One face of one placed body, in the part's coordinates (mm).
struct Face {
    int index = 0; ///< stable for one file: order of the file, bodies in order
    int body = 0;
    FaceKind kind = FaceKind::plane;
    double area_mm2 = 0;
    Vec3 centroid;
    /// Plane: origin at the centroid, z the outward normal. Cylinder, cone, torus, sphere: z the axis, origin on it.
    /// Freeform: z the outward normal at the middle of the parameter range.
    Frame frame;
    double radius_mm = 0; ///< cylinder, sphere; cone at the frame's origin; torus major
    Box3 box;
    Fingerprint fingerprint;
    std::string name; ///< from the file, UTF-8, may be empty
    std::optional<Colour> colour;
    std::string mark; ///< name of the mark that made this face; empty for the part's own faces
};

/// One placed occurrence of a solid (or of a free shell) of the part.
struct Body {
    std::string name;  ///< UTF-8, may be empty
    std::string path;  ///< "assembly/sub/part" for a person
    bool solid = true; ///< false: a free shell or face, kept but not marked
    bool valid = true; ///< OpenCASCADE's BRepCheck
    int first_face = 0, face_count = 0;
    double volume_mm3 = 0;
};

/// The triangles of one face in the part's coordinates, outward normals, counter-clockwise seen from outside.
struct FaceMesh {
    std::vector<std::array<float, 3>> points;
    std::vector<std::array<float, 3>> normals;
    std::vector<std::array<std::uint32_t, 3>> triangles;
    /// The face's edges as polylines, for drawing; an edge shared by two faces appears with both.
    std::vector<std::vector<std::array<float, 3>>> edges;
};

struct Deflection {
    /// Largest distance between mesh and surface; 0: chosen from the part's size (diagonal / 2000, between 0.005 and
    /// 0.5 mm).
    Mm linear{0};
    Degrees angular{15};
};

/// What was odd about a file that opened all the same; shown as findings on the part.
struct Note {
    std::string code; ///< "part.invalid_solid", "part.free_shell", "part.repaired" …
    std::string message;
    int body = -1;
};

/// The B-rep that came in (or came out of marking). Never changed in place; hold it by shared_ptr<const Part>.
/// Safe to use from several threads.
class Part {
public:
    ~Part();
    [[nodiscard]] const std::vector<Face>& faces() const;
    [[nodiscard]] const std::vector<Body>& bodies() const;
    [[nodiscard]] const std::vector<Note>& notes() const;
    [[nodiscard]] const std::string& name() const;
    /// "mm", "inch" … as the file says; geometry is always in mm.
    [[nodiscard]] const std::string& file_unit() const;
    [[nodiscard]] Box3 box() const;
    /// Sum over the solids.
    [[nodiscard]] double volume_mm3() const;
    /// Of the file's bytes for a part read from a file; of the recipe for a marked one.
    [[nodiscard]] const Digest& digest() const;

    /// OpenCASCADE's side, see shape.h.
    struct Impl;
    explicit Part(std::unique_ptr<Impl> impl);
    [[nodiscard]] const Impl& impl() const { return *impl_; }

private:
    std::unique_ptr<Impl> impl_;
};
using PartPtr = std::shared_ptr<const Part>;

/// One entry a face of the part, in the order of Part::faces(). Faces that were meshed before at this deflection (in
/// this part or the part it was made from) are not meshed again. Errors: "cancelled", "part.mesh".
[[nodiscard]] Result<std::vector<std::shared_ptr<const FaceMesh>>>
tessellate(const Part& part, const Deflection& deflection, const Progress& progress);

/// The face of `part` that a fingerprint from another reading names: the same, else the nearest of the same kind, size
/// and place within a tolerance; nullopt when none is near. `hint` is the index it had.
[[nodiscard]] std::optional<int> find_face(const Part& part, const Fingerprint& fingerprint, int hint);

} // namespace touchmark::part
