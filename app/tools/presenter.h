// SPDX-License-Identifier: MIT
#pragma once

#include "app/tools/surroundings.h"

namespace touchmark::tools {

/// Shows the session in the viewport: the part (the exact marked one when there is one), pose, shading, marks, ghost.
class Presenter {
public:
    explicit Presenter(Surroundings& around) : around_(around) {}
    void on_changed(session::Changes changes);
    /// The mode that the part is shaded for: the selected mark's.
    [[nodiscard]] Mode mode() const;
    void set_shaded(bool shaded);
    /// The marks as they come out of the printer instead of as drawn.
    void set_printed(bool printed);

private:
    void show_part();
    void show_pose();
    void show_shading();
    void show_kept_clear();
    void show_marks();
    [[nodiscard]] bool solid_shown() const;
    [[nodiscard]] std::optional<viewport::MarkShape> shape_of(const job::Mark& mark);
    [[nodiscard]] std::shared_ptr<const pipeline::PrintedSurface> printed_surface(const job::Mark& mark,
                                                                                  const PlacedMark& placed);
    void add_ghosts(std::vector<viewport::MarkShape>& shapes);

    Surroundings& around_;
    std::optional<plate::Pose> pose_;
    plate::Meshes posed_;
    std::string process_;
    std::optional<Mode> shaded_for_;
    bool shaded_ = true, printed_ = false;
    /// Of each mark the last that was made, and from what.
    struct Surface {
        std::shared_ptr<const print::PrintedMark> of;
        job::Anchor anchor;
        std::shared_ptr<const pipeline::PrintedSurface> made;
    };
    std::map<std::string, Surface> surfaces_;
};

} // namespace touchmark::tools
