import { Component, type ReactNode } from "react";
import { Button } from "../parts/Button.tsx";
import { Notice } from "../parts/Notice.tsx";

interface FaultBoundaryProps {
  /** What failed, in words: “the screen Bench”. */
  readonly where: string;
  readonly children: ReactNode;
}

/** Catches a defect while drawing. What was typed is kept outside of what is drawn and comes back with it. */
export class FaultBoundary extends Component<FaultBoundaryProps, { fault: Error | null }> {
  override state: { fault: Error | null } = { fault: null };

  static getDerivedStateFromError(fault: unknown): { fault: Error } {
    return { fault: fault instanceof Error ? fault : new Error(String(fault)) };
  }

  override render(): ReactNode {
    const { fault } = this.state;
    if (!fault) return this.props.children;
    return (
      <Notice
        kind="fault"
        live
        title={`A defect stopped ${this.props.where} from being drawn.`}
        hint="Records on disk are not touched, and what you typed is kept. Draw it again, or go to another screen."
      >
        <p>{fault.message}</p>
        <p>
          <Button onClick={() => this.setState({ fault: null })}>Draw it again</Button>
        </p>
      </Notice>
    );
  }
}
