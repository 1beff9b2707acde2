export type { FrameJoint, FrameLoading, FrameMember, FrameState, JointMotion, MemberForces, PlanarFrame } from "./frame.ts";
export { PlanarFrameModel } from "./frame.ts";
