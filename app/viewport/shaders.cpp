// SPDX-License-Identifier: MIT
#include "app/viewport/shaders.h"

#include <vtk_glew.h>

#include <vtkActor.h>
#include <vtkDataObject.h>
#include <vtkObjectFactory.h>
#include <vtkShaderProperty.h>
#include <vtkUniforms.h>

#include <array>
#include <string>

namespace touchmark::viewport {
namespace {

constexpr const char* light = R"(
  vec3 toned = diffuseColor;
  //Touchmark::Tone
  vec3 facing = normalVCVSOutput;
  const vec3 keyDirection = vec3(-0.42, 0.62, 0.66);
  float sky = 0.5 + 0.5 * dot(facing, upVC);
  float key = max(dot(facing, keyDirection), 0.0);
  float front = max(facing.z, 0.0);
  vec3 lit = toned * (0.44 + 0.24 * sky + 0.28 * key + 0.17 * front);
  float gloss = pow(max(dot(reflect(-keyDirection, facing), vec3(0.0, 0.0, 1.0)), 0.0), 22.0);
  gl_FragData[0] = vec4(lit + vec3(0.05 * gloss), opacity);
)";

// Which way the stripes run follows the axis that the surface faces most, so that they never fall together.
constexpr const char* stripes = R"(
  float avoid = avoidVSOutput;
  if (avoid > 0.5) {
    vec3 at = placeVSOutput;
    vec3 way = abs(cross(dFdx(at), dFdy(at)));
    float along = way.z >= way.x && way.z >= way.y ? at.x + at.y : (way.x > way.y ? at.y + at.z : at.x + at.z);
    float turn = along / stripeSpacing;
    float width = max(fwidth(turn), 1e-6);
    float offset = abs(fract(turn) - 0.5);
    float line = smoothstep(0.5 - 0.14 - width, 0.5 - 0.14 + width, offset);
    toned = mix(toned, toned + (vec3(0.93) - toned) * 0.62, line * clamp(1.6 - width * 2.0, 0.0, 1.0));
  }
)";

constexpr const char* plate = R"(
  vec2 at = placeVSOutput.xy;
  vec2 pixel = fwidth(at) * plateDetail; // of the screen, however many are drawn for one
  vec2 fine = abs(fract(at - 0.5) - 0.5) / pixel;
  vec2 coarse = abs(fract(at / 10.0 - 0.5) - 0.5) * 10.0 / pixel;
  vec2 fineShown = clamp(0.32 / pixel - 1.6, 0.0, 1.0);
  vec2 coarseShown = clamp(3.2 / pixel - 1.6, 0.0, 1.0);
  vec2 fineLine = (1.0 - min(fine, 1.0)) * fineShown * 0.16;
  vec2 coarseLine = (1.0 - min(coarse, 1.0)) * coarseShown * 0.34;
  float line = max(max(fineLine.x, fineLine.y), max(coarseLine.x, coarseLine.y));
  vec3 sheet = mix(diffuseColor, plateLine, line) * (1.0 - shadeVSOutput * plateShadow);
  vec2 inside = plateHalf - abs(at);
  float radius = 4.0;
  vec2 corner = max(vec2(radius) - inside, 0.0);
  float within = radius - length(corner);
  float edge = clamp(within / max(pixel.x, pixel.y), 0.0, 1.0);
  float border = edge * (1.0 - clamp(within / max(pixel.x, pixel.y) - 1.0, 0.0, 1.0));
  sheet = mix(sheet, plateLine, border * 0.5);
  bool below = plateAbove < 0.0;
  gl_FragData[0] = vec4(sheet, edge * (below ? 0.16 : 1.0));
)";

constexpr const char* pulled_depth = R"(
  float pulled = max(gl_Position.w - drawn, nearPlane * 1.001);
  float ndc = (farPlane + nearPlane - 2.0 * farPlane * nearPlane / pulled) / (farPlane - nearPlane);
  gl_Position.z = ndc * gl_Position.w;
)";

void hand_over_place(vtkShaderProperty& shader, const char* attribute) {
    const std::string name = attribute;
    shader.AddVertexShaderReplacement("//VTK::PositionVC::Dec", true,
                                      "//VTK::PositionVC::Dec\nin float " + name + ";\nout float " + name +
                                          "VSOutput;\nout vec3 placeVSOutput;\n",
                                      false);
    shader.AddVertexShaderReplacement(
        "//VTK::PositionVC::Impl", true,
        "//VTK::PositionVC::Impl\n  " + name + "VSOutput = " + name + ";\n  placeVSOutput = vertexMC.xyz;\n", false);
    shader.AddFragmentShaderReplacement(
        "//VTK::PositionVC::Dec", true,
        "//VTK::PositionVC::Dec\nin float " + name + "VSOutput;\nin vec3 placeVSOutput;\n", false);
}

} // namespace

vtkStandardNewMacro(RecedingMapper);

void RecedingMapper::RenderPieceDraw(vtkRenderer* renderer, vtkActor* actor) {
    glEnable(GL_POLYGON_OFFSET_FILL);
    glPolygonOffset(1.0F, 2.0F);
    this->Superclass::RenderPieceDraw(renderer, actor);
    glDisable(GL_POLYGON_OFFSET_FILL);
}

void light_softly(vtkActor& actor) {
    actor.GetShaderProperty()->AddFragmentShaderReplacement("//VTK::Light::Impl", true, light, false);
    set_view(actor, {0, 1, 0});
}

void stripe_avoided(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor) {
    mapper.MapDataArrayToVertexAttribute("avoid", "avoid", vtkDataObject::FIELD_ASSOCIATION_POINTS);
    vtkShaderProperty& shader = *actor.GetShaderProperty();
    hand_over_place(shader, "avoid");
    std::string whole = light;
    whole.replace(whole.find("  //Touchmark::Tone\n"), 20, stripes);
    shader.AddFragmentShaderReplacement("//VTK::Light::Impl", true, whole, false);
    set_stripes(actor, 1);
}

void set_stripes(vtkActor& actor, double spacing_mm) {
    actor.GetShaderProperty()->GetFragmentCustomUniforms()->SetUniformf("stripeSpacing",
                                                                        static_cast<float>(spacing_mm));
}

void bring_nearer(vtkActor& actor, double share) {
    actor.GetShaderProperty()->AddVertexShaderReplacement(
        "//VTK::PositionVC::Impl", true,
        "//VTK::PositionVC::Impl\n  gl_Position.z -= " + std::to_string(2 * share) + " * gl_Position.w;\n", false);
}

void pull_through(vtkActor& actor) {
    // gl_Position.w is the distance along the view axis of a perspective view.
    actor.GetShaderProperty()->AddVertexShaderReplacement(
        "//VTK::PositionVC::Impl", true, "//VTK::PositionVC::Impl\n  float drawn = pull;\n" + std::string(pulled_depth),
        false);
    set_pull(actor, {});
}

void pull_through_where_facing(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor) {
    mapper.MapDataArrayToVertexAttribute("outward", "outward", vtkDataObject::FIELD_ASSOCIATION_POINTS);
    vtkShaderProperty& shader = *actor.GetShaderProperty();
    shader.AddVertexShaderReplacement("//VTK::PositionVC::Dec", true, "//VTK::PositionVC::Dec\nin vec3 outward;\n",
                                      false);
    shader.AddVertexShaderReplacement(
        "//VTK::PositionVC::Impl", true,
        "//VTK::PositionVC::Impl\n  float drawn = dot(outward, eyeMC - vertexMC.xyz) > 0.0 ? pull : 0.0;\n" +
            std::string(pulled_depth) + "  gl_Position.z -= 0.0006 * gl_Position.w;\n",
        false);
    set_pull(actor, {});
}

void set_pull(vtkActor& actor, const Pull& pull) {
    vtkUniforms* uniforms = actor.GetShaderProperty()->GetVertexCustomUniforms();
    uniforms->SetUniformf("pull", static_cast<float>(pull.millimetres));
    uniforms->SetUniformf("nearPlane", static_cast<float>(pull.near_plane));
    uniforms->SetUniformf("farPlane", static_cast<float>(pull.far_plane));
    const std::array eye{static_cast<float>(pull.eye.x), static_cast<float>(pull.eye.y),
                         static_cast<float>(pull.eye.z)};
    uniforms->SetUniform3f("eyeMC", eye.data());
}

void mask_only(vtkActor& actor) {
    actor.GetShaderProperty()->AddFragmentShaderReplacement("//VTK::Light::Impl", true,
                                                            "  gl_FragData[0] = vec4(0.0, 0.0, 0.0, 0.0);\n", false);
}

void draw_plate(vtkOpenGLPolyDataMapper& mapper, vtkActor& actor) {
    mapper.MapDataArrayToVertexAttribute("shade", "shade", vtkDataObject::FIELD_ASSOCIATION_POINTS);
    hand_over_place(*actor.GetShaderProperty(), "shade");
    actor.GetShaderProperty()->AddFragmentShaderReplacement("//VTK::Light::Impl", true, plate, false);
}

void set_view(vtkActor& actor, Vec3 up_in_view) {
    const std::array up{static_cast<float>(up_in_view.x), static_cast<float>(up_in_view.y),
                        static_cast<float>(up_in_view.z)};
    actor.GetShaderProperty()->GetFragmentCustomUniforms()->SetUniform3f("upVC", up.data());
}

} // namespace touchmark::viewport
