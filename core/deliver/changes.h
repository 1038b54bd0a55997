// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/unmarked.h"
#include "core/part/shape.h"

namespace touchmark::deliver {

/// How a marked part differs from the part that was marked, shape by shape: what they share is the same shape in both,
/// not an equal one.
struct Changes {
    struct Shell {
        int id = 0;                     ///< its CLOSED_SHELL
        std::vector<TopoDS_Face> faces; ///< all it has now, as they lie in the product
    };
    struct Voids {
        int solid = 0; ///< its MANIFOLD_SOLID_BREP or BREP_WITH_VOIDS
        std::vector<std::vector<TopoDS_Face>> shells;
    };
    /// A solid beside those that were there.
    struct Body {
        int representation = 0;                       ///< that it joins
        std::vector<std::vector<TopoDS_Face>> shells; ///< the outer one first
        std::string name;
        std::optional<part::Colour> colour;
    };
    struct Style {
        std::string name;
        std::optional<part::Colour> surface, curve;

        friend bool operator==(const Style&, const Style&) = default;
    };
    using Styles = NCollection_DataMap<TopoDS_Shape, Style, TopTools_ShapeMapHasher>;

    std::vector<Shell> shells;
    std::vector<Voids> voids;
    std::vector<Body> bodies;
    TopTools_DataMapOfShapeInteger heirs; ///< new faces that take the place of an old one: the old one's entity
    std::vector<int> gone;                ///< faces without heir
    Styles styles;                        ///< of faces that are new altogether
};

inline constexpr std::string_view not_appendable_code = "deliver.not_appendable";

/// Errors: "deliver.not_appendable", saying what is not of the kind that can be added to the unmarked part's text:
/// other products, instances or placements, a body or shell that is gone, names or colours that moved, a shape that the
/// text has not or that lies mirrored.
[[nodiscard]] Result<Changes> changes_of(const Unmarked& unmarked, const part::Model& marked);

[[nodiscard]] inline std::unexpected<Error> not_appendable(const std::string& why) {
    return fail(std::string(not_appendable_code), "It cannot be added to the unmarked part: " + why + ".");
}

} // namespace touchmark::deliver
