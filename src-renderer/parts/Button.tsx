import type { ButtonHTMLAttributes, ReactNode, Ref } from "react";
import styles from "./Button.module.css";
import { KeyHint } from "./KeyHint.tsx";
import { classNames } from "./layout/class-names.ts";

export interface ButtonProps extends Omit<ButtonHTMLAttributes<HTMLButtonElement>, "className" | "style"> {
  /** `main`: the act of the screen; `plain`: the rest; `quiet`: within a line of text or a table. */
  readonly look?: "main" | "plain" | "quiet";
  /** The key that does the same, shown beside the words. */
  readonly keyHint?: string | undefined;
  readonly ref?: Ref<HTMLButtonElement>;
  readonly children: ReactNode;
}

export function Button({ look = "plain", keyHint, children, type = "button", ...rest }: ButtonProps) {
  return (
    <button type={type} className={classNames(styles.button, styles[look])} {...rest}>
      {children}
      {keyHint ? <KeyHint chord={keyHint} /> : null}
    </button>
  );
}
