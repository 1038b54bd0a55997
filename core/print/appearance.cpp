// SPDX-License-Identifier: MIT
#include "core/print/appearance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>

namespace touchmark::print {
namespace {

constexpr int directions = 16;   // about a point, in which the horizon is looked for
constexpr double ambient = 0.35; // of the light from one side: what the rest of the room gives
constexpr Degrees low_light{30}, ring_light{25};

/// Heights over the face on the picture's own pixels.
class Ground {
public:
    /// To a pixel on a ray from another.
    struct Step {
        int x, y;  ///< pixels, y up
        float far; ///< mm
    };

    Ground(const Printed& printed, const Box2& box, double pixels_a_mm)
        : width(std::max(1, static_cast<int>(std::lround(box.width() * pixels_a_mm)))),
          height(std::max(1, static_cast<int>(std::lround(box.height() * pixels_a_mm)))), step_(1 / pixels_a_mm) {
        heights_.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
        for (int y = 0; y < height; ++y)
            for (int x = 0; x < width; ++x) {
                const Vec2 at{box.low.x + (x + 0.5) * step_, box.high.y - (y + 0.5) * step_};
                heights_.push_back(static_cast<float>(printed.relief.value(printed.from_mark(at))));
            }
        highest_ = std::ranges::max(heights_);
    }

    [[nodiscard]] float at(int x, int y) const {
        x = std::clamp(x, 0, width - 1), y = std::clamp(y, 0, height - 1);
        return heights_[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
    /// Outward normal; y up.
    [[nodiscard]] Vec3 normal(int x, int y) const {
        const Vec3 n{(at(x - 1, y) - at(x + 1, y)) / (2 * step_), (at(x, y + 1) - at(x, y - 1)) / (2 * step_), 1};
        return n * (1 / length(n));
    }
    /// Tangent of the angle over the face's level below which nothing is seen along a ray.
    [[nodiscard]] float horizon(int x, int y, std::span<const Step> ray) const {
        constexpr float level = 0.01F; // as good as none
        const float own = at(x, y), highest = highest_ - own;
        float tangent = 0;
        for (const Step& step : ray) {
            if (highest <= std::max(tangent, level) * step.far) break; // nothing is high enough any more
            const int i = x + step.x, j = y - step.y;
            if (i < 0 || j < 0 || i >= width || j >= height) break;
            tangent = std::max(tangent, (at(i, j) - own) / step.far);
        }
        return tangent;
    }
    /// The pixels that lie in a direction, as far as the picture can reach.
    [[nodiscard]] std::vector<Step> ray(Vec2 way) const {
        std::vector<Step> steps;
        for (int k = 1; k <= width + height; ++k)
            steps.push_back({static_cast<int>(std::lround(way.x * k)), static_cast<int>(std::lround(way.y * k)),
                             static_cast<float>(k * step_)});
        return steps;
    }
    const int width, height;

private:
    double step_;
    float highest_ = 0;
    std::vector<float> heights_;
};

Vec2 direction(int k) {
    const double angle = 2 * std::numbers::pi * k / directions;
    return {std::cos(angle), std::sin(angle)};
}

/// Tangents of a point's horizon, one a direction.
using Horizon = std::array<float, directions>;

/// Of the light from a whole sky that a level point gets: over each sector the sky above its horizon h gives cos² h.
double from_sky(const Horizon& horizon) {
    double sum = 0;
    for (const float tangent : horizon)
        sum += 1 / (1 + static_cast<double>(tangent) * static_cast<double>(tangent));
    return sum / directions;
}

/// Of a far light in the k-th direction: 1 on the level face, 0 in its shadow.
double from_side(const Horizon& horizon, const Vec3& normal, int k, Degrees elevation) {
    const double up = std::sin(elevation.radians()), flat = std::cos(elevation.radians());
    if (static_cast<double>(horizon[static_cast<std::size_t>(k)]) > up / flat) return 0;
    const Vec2 way = direction(k);
    return std::max(0.0, normal.x * way.x * flat + normal.y * way.y * flat + normal.z * up) / up;
}

double from_ring(const Horizon& horizon, const Vec3& normal) {
    double sum = 0;
    for (int k = 0; k < directions; ++k)
        sum += from_side(horizon, normal, k, ring_light);
    return sum / directions;
}

int side_of(Lighting lighting) {
    switch (lighting) {
    case Lighting::from_right:
        return 0;
    case Lighting::from_above:
        return directions / 4;
    case Lighting::from_left:
        return directions / 2;
    default:
        return 3 * directions / 4;
    }
}

double lit(const Horizon& horizon, const Vec3& normal, Lighting lighting) {
    if (lighting == Lighting::diffuse) return from_sky(horizon);
    if (lighting == Lighting::low_ring) return from_ring(horizon, normal);
    return ambient * from_sky(horizon) + (1 - ambient) * from_side(horizon, normal, side_of(lighting), low_light);
}

} // namespace

std::string_view title_of(Lighting lighting) {
    switch (lighting) {
    case Lighting::diffuse:
        return "an even light";
    case Lighting::low_ring:
        return "a low ring of light";
    case Lighting::from_left:
        return "a low light from the left";
    case Lighting::from_above:
        return "a low light from above";
    case Lighting::from_right:
        return "a low light from the right";
    case Lighting::from_below:
        return "a low light from below";
    case Lighting::two_colours:
        return "its two colours";
    case Lighting::through:
        return "a light behind the part";
    }
    return "";
}

std::span<const Lighting> lightings(Mode mode) {
    using enum Lighting;
    static constexpr std::array relief{diffuse, low_ring, from_left, from_above, from_right, from_below};
    static constexpr std::array inlay{two_colours}, hidden{through};
    if (mode == Mode::hidden) return hidden;
    if (mode == Mode::inlay) return inlay;
    return relief;
}

bool is_even(Lighting lighting) {
    using enum Lighting;
    return lighting == diffuse || lighting == low_ring || lighting == two_colours || lighting == through;
}

struct Appearance::Impl {
    const Printed& printed;
    const LightThrough* light;
    Box2 box;
    double pixels_a_mm;
    Ground ground;
    std::vector<Horizon> horizons; ///< one a pixel; made when first wanted

    Impl(const Printed& of, const LightThrough* behind, const Box2& within, double pixels)
        : printed(of), light(behind), box(within), pixels_a_mm(pixels), ground(of, within, pixels) {}

    Status look_around(const Progress& progress) {
        if (!horizons.empty()) return {};
        std::array<std::vector<Ground::Step>, directions> rays;
        for (int k = 0; k < directions; ++k)
            rays[static_cast<std::size_t>(k)] = ground.ray(direction(k));
        std::vector<Horizon> found;
        found.reserve(static_cast<std::size_t>(ground.width) * static_cast<std::size_t>(ground.height));
        for (int y = 0; y < ground.height; ++y) {
            if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
            for (int x = 0; x < ground.width; ++x) {
                Horizon& own = found.emplace_back();
                for (std::size_t k = 0; k < rays.size(); ++k)
                    own[k] = ground.horizon(x, y, rays[k]);
            }
        }
        horizons = std::move(found);
        return {};
    }
    [[nodiscard]] double value(int x, int y, Lighting lighting, double peak) const {
        if (lighting == Lighting::two_colours) return 1 - std::clamp(printed.retained(ground.at(x, y)), 0.0, 1.0);
        if (lighting == Lighting::through) {
            const Vec2 at{box.low.x + (x + 0.5) / pixels_a_mm, box.high.y - (y + 0.5) / pixels_a_mm};
            return light && peak > 0 ? light->glow.value(printed.from_mark(at)) / peak : 1;
        }
        const auto index =
            static_cast<std::size_t>(y) * static_cast<std::size_t>(ground.width) + static_cast<std::size_t>(x);
        return lit(horizons[index], ground.normal(x, y), lighting);
    }
};

Appearance::Appearance(const Printed& printed, const LightThrough* light, const Box2& box, double pixels_a_mm)
    : impl_(std::make_unique<Impl>(printed, light, box, pixels_a_mm)) {}

Appearance::~Appearance() = default;

Result<Brightness> Appearance::in(Lighting lighting, const Progress& progress) {
    const bool colour_alone = lighting == Lighting::two_colours || lighting == Lighting::through;
    if (!colour_alone)
        if (const Status looked = impl_->look_around(progress); !looked) return std::unexpected(looked.error());
    Brightness out{impl_->ground.width, impl_->ground.height, {}};
    out.values.reserve(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    const double peak = impl_->light ? *std::ranges::max_element(impl_->light->glow.values) : 1;
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            out.values.push_back(static_cast<float>(impl_->value(x, y, lighting, peak)));
    return out;
}

Result<Brightness> appearance(const Printed& printed, const LightThrough* light, Lighting lighting, const Box2& box,
                              double pixels_a_mm, const Progress& progress) {
    return Appearance(printed, light, box, pixels_a_mm).in(lighting, progress);
}

} // namespace touchmark::print
