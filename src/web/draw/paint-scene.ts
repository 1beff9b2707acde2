/** A scene on a canvas, exactly as it is saved. */
import { type Scene, type Shape, type Stroke, wordSize } from "#picture";

function pathOf(outlines: readonly Float64Array[], closed: boolean): Path2D {
  const path = new Path2D();
  for (const points of outlines) {
    path.moveTo(points[0]!, points[1]!);
    for (let i = 2; i < points.length; i += 2) path.lineTo(points[i]!, points[i + 1]!);
    if (closed) path.closePath();
  }
  return path;
}

function stroke(canvas: CanvasRenderingContext2D, path: Path2D, { colour, width, dashes }: Stroke): void {
  canvas.strokeStyle = colour;
  canvas.lineWidth = width;
  canvas.setLineDash([...(dashes ?? [])]);
  canvas.stroke(path);
}

function paint(canvas: CanvasRenderingContext2D, shape: Shape): void {
  switch (shape.kind) {
    case "area": {
      const path = pathOf(shape.outlines, true);
      const { fill } = shape;
      if (typeof fill === "string") canvas.fillStyle = fill;
      else {
        const gradient = canvas.createLinearGradient(...fill.from, ...fill.to);
        for (const [share, colour] of fill.stops) gradient.addColorStop(share, colour);
        canvas.fillStyle = gradient;
      }
      canvas.fill(path, "evenodd");
      if (shape.stroke !== undefined) stroke(canvas, path, shape.stroke);
      return;
    }
    case "line":
      stroke(canvas, pathOf([shape.points], shape.closed === true), shape.stroke);
      return;
    case "ring": {
      const path = new Path2D();
      path.arc(...shape.at, shape.radius, 0, 2 * Math.PI);
      if (shape.fill !== undefined) {
        canvas.fillStyle = shape.fill;
        canvas.fill(path);
      }
      stroke(canvas, path, shape.stroke);
      return;
    }
    case "words": {
      canvas.font = `${wordSize}px "Source Sans 3", "Arial", sans-serif`;
      canvas.textAlign = shape.anchor === "middle" ? "center" : (shape.anchor ?? "start");
      if (shape.halo !== undefined) {
        canvas.strokeStyle = shape.halo;
        canvas.lineWidth = 3;
        canvas.setLineDash([]);
        canvas.strokeText(shape.words, ...shape.at);
      }
      canvas.fillStyle = shape.fill;
      canvas.fillText(shape.words, ...shape.at);
      return;
    }
    case "inside":
      canvas.save();
      canvas.clip(pathOf(shape.outlines, true), "evenodd");
      for (const inner of shape.shapes) paint(canvas, inner);
      canvas.restore();
  }
}

/** Shapes over what is painted already, in pixels of the page. */
export function paintShapes(canvas: CanvasRenderingContext2D, shapes: readonly Shape[], density: number): void {
  canvas.setTransform(density, 0, 0, density, 0, 0);
  canvas.lineJoin = "round";
  canvas.lineCap = "butt";
  for (const shape of shapes) paint(canvas, shape);
  canvas.setLineDash([]);
}

export function paintScene(canvas: CanvasRenderingContext2D, scene: Scene, density: number): void {
  canvas.setTransform(density, 0, 0, density, 0, 0);
  canvas.fillStyle = scene.ground;
  canvas.fillRect(0, 0, scene.width, scene.height);
  paintShapes(canvas, scene.shapes, density);
}
