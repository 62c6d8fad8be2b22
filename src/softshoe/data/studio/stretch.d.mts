/** A node that plays buffers at any rate and keeps their pitch. */
export interface Stretch extends AudioWorkletNode {
  addBuffers(channels: Float32Array[]): Promise<number>;
  dropBuffers(): Promise<unknown>;
  schedule(change: { output?: number; active?: boolean; input?: number; rate?: number; loopStart?: number; loopEnd?: number }): Promise<unknown>;
}
declare function SignalsmithStretch(context: AudioContext, options?: AudioWorkletNodeOptions): Promise<Stretch>;
declare namespace SignalsmithStretch { let moduleUrl: string; }
export default SignalsmithStretch;
