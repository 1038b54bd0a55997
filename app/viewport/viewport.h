// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"

#include <QWidget>
#include <functional>
#include <memory>
#include <optional>

class QPainter;

namespace touchmark::viewport {

/// What the pointer is on.
struct Hit {
    int face = -1;      ///< of the unmarked part
    Vec3 point, normal; ///< part coordinates
};

/// Takes the pointer and the keys before the camera does, and paints over the picture.
class Handler {
public:
    virtual ~Handler() = default;
    /// true: taken, the camera does not see it.
    virtual bool handle(QEvent& event) = 0;
    /// Over the finished frame, in widget coordinates, every frame; no 3D work here.
    virtual void paint(QPainter& painter) = 0;
};

/// One mark as the viewport draws it.
struct MarkShape {
    std::string id;
    part::FaceMesh relief; ///< from imprint::relief, part coordinates
    Mode mode = Mode::engrave;
    bool selected = false;
    bool ghost = false;    ///< the preview of a fix
};

/// The part on its plate. Draws; decides nothing. Turning: right or middle drag or left drag beside the part's marks; panning: Shift-drag; zoom to the pointer: wheel.
class Viewport : public QWidget {
    Q_OBJECT

public:
    explicit Viewport(QWidget* parent = nullptr);
    ~Viewport() override;

    /// The unmarked or the exact marked part; one mesh a face. An empty list clears. `host_faces`: for each mesh the face of the unmarked part it belongs to (for picking), -1 for a mark's own.
    void set_part(const plate::Meshes& meshes, const std::vector<int>& host_faces);
    void set_pose(const plate::Placement& placement, double height_mm);
    /// Shades every point by its zone's suitability for the mode; nullopt: plain.
    void set_shading(const process::Process& process, std::optional<Mode> mode);
    /// Replaced as a whole on every frame of a drag: must be cheap.
    void set_marks(std::vector<MarkShape> marks);
    void set_dark(bool dark);
    /// While on, the part is drawn once and only the marks are redrawn.
    void set_dragging(bool dragging);

    [[nodiscard]] std::optional<Hit> pick(QPointF at) const;
    /// Part coordinates → widget coordinates, and whether the point is in front of the camera and not hidden by the part.
    [[nodiscard]] QPointF to_widget(Vec3 point) const;
    [[nodiscard]] bool visible(Vec3 point) const;
    [[nodiscard]] double pixels_per_mm(Vec3 at) const;

    void fit();                                             ///< whole part, animated
    void fly_to(Vec3 point, Vec3 normal, double extent_mm); ///< squarely, the extent filling a third of the view; animated
    void look(Vec3 from_direction, Vec3 up);                ///< plate coordinates

    void add_handler(Handler* handler);    ///< newest first
    void remove_handler(Handler* handler);
    /// Milliseconds that the last frame took to draw.
    [[nodiscard]] double last_frame_ms() const;
    [[nodiscard]] QImage grab_image(); ///< the frame as shown, handlers' painting included

signals:
    void camera_changed();
    void rendered(double ms);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::viewport
