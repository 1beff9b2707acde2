export type { BeamForces, PointMotion } from "./answers.ts";
export { findBeamForces, flexibilityAt, motionAt, shapeOf, stiffnessAt } from "./answers.ts";
export type { BlockedForce, ForceTravelLine, ForceTravelPoint } from "./blocked-force.ts";
export { findBlockedForce, findForceTravel } from "./blocked-force.ts";
export type { DiscretisationError } from "./discretisation.ts";
export { estimateDiscretisation, recommendElements } from "./discretisation.ts";
export { FreeMotionError } from "./free-motion-error.ts";
export type { FrameModel, FrameSolveOptions } from "./model.ts";
export { createFrameModel, estimateNeighbour } from "./model.ts";
export type {
  BeamSection,
  ContactStop,
  FrameBeam,
  FrameForce,
  FrameJunction,
  FrameLoad,
  FrameNetwork,
  FrameShape,
  HeldMotion,
  Motion,
  OutOfPlaneMotion,
  RigidBodyMass,
} from "./network.ts";
export { findBucklingFactor } from "./out-of-plane-buckling.ts";
export type { NoSpecialState, SpecialState, SpecialStateOptions } from "./special-states.ts";
export { findSpecialState } from "./special-states.ts";
export type { FrameEquilibrium, FrameState, NoEquilibrium, StateExtent, StopState } from "./state.ts";
export type { PathPoint, SpecialPoint, TracedPath, TraceOptions } from "./trace.ts";
export { findAllStates, tracePath } from "./trace.ts";
