// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/mark_shape.h"
#include "core/pipeline/evaluate.h"

#include <QWidget>
#include <functional>
#include <memory>
#include <optional>

class QPainter;

namespace touchmark::viewport {

/// Takes the pointer and the keys before the camera does, and paints over the picture.
class Handler {
public:
    virtual ~Handler() = default;
    /// true: taken, the camera does not see it.
    virtual bool handle(QEvent& event) = 0;
    /// Over the finished frame, in widget coordinates, every frame and after update_overlay(); no 3D work here.
    virtual void paint(QPainter& painter) = 0;
};

/// The part on its plate. Draws; decides nothing. Turning: right or middle drag, or left drag that no handler took;
/// panning: Shift-drag; zoom to the pointer: wheel; the whole part: double click that no handler took.
class Viewport : public QWidget {
    Q_OBJECT

public:
    explicit Viewport(QWidget* parent = nullptr);
    ~Viewport() override;

    /// The unmarked or the exact marked part; one mesh a face. An empty list clears. `host_faces`: for each mesh the
    /// face of the unmarked part it belongs to, -1 for a mark's own. What is picked is the last part that had no mark's
    /// own faces. `made_by`: for each mesh the mode of the mark that made it; may be empty.
    void set_part(const plate::Meshes& meshes, const std::vector<int>& host_faces,
                  const std::vector<std::optional<Mode>>& made_by = {});
    void set_pose(const plate::Placement& placement, double height_mm);
    /// Shades every point by its zone's suitability for the mode; nullopt: plain.
    void set_shading(const process::Process& process, std::optional<Mode> mode);
    /// Faces of the unmarked part that marks stay off: tinted and hatched, whatever the shading.
    void set_kept_clear(std::vector<int> faces);
    /// Replaced as a whole on every frame of a drag: must be cheap.
    void set_marks(std::vector<MarkShape> marks);
    /// Shows a face of the part as the one that is meant; an empty one: none.
    void set_meant_face(const part::FaceMesh& face);
    void set_dark(bool dark);
    /// While on, the part is drawn once and only the marks are redrawn.
    void set_dragging(bool dragging);

    [[nodiscard]] std::optional<Hit> pick(QPointF at) const;
    /// Part coordinates → widget coordinates, and whether the point is in front of the camera and not hidden by the
    /// part.
    [[nodiscard]] QPointF to_widget(Vec3 point) const;
    [[nodiscard]] bool visible(Vec3 point) const;
    [[nodiscard]] double pixels_per_mm(Vec3 at) const;
    /// Where the line of sight through a point of the widget meets a plane (part coordinates); nullopt: behind the eye
    /// or nearly along the plane.
    [[nodiscard]] std::optional<Vec3> meet_plane(QPointF at, Vec3 point, Vec3 normal) const;

    void fit(); ///< whole part, animated
    /// Part coordinates; squarely, the extent filling a third of the view; animated.
    void fly_to(Vec3 point, Vec3 normal, double extent_mm);
    void look(Vec3 from_direction, Vec3 up); ///< plate coordinates; animated, the whole part
    /// Ends a running flight where it was going.
    void arrive();

    void add_handler(Handler* handler); ///< newest first
    void remove_handler(Handler* handler);
    /// Handlers paint anew; the scene is not drawn again.
    void update_overlay();
    [[nodiscard]] QColor accent() const; ///< for what is selected: the palette's highlight
    /// Milliseconds that the last frame took to draw.
    [[nodiscard]] double last_frame_ms() const;
    [[nodiscard]] QImage grab_image(); ///< the frame as shown, handlers' painting included

    [[nodiscard]] QSize sizeHint() const override { return {800, 600}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {240, 180}; }

protected:
    bool event(QEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

signals:
    void camera_changed();
    void rendered(double ms);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace touchmark::viewport
