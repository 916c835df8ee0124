import { Button } from "../parts/Button.tsx";
import { Dialog } from "../parts/layout/Dialog.tsx";
import { useNavigation, useNavigationState } from "../window/navigation-context.tsx";
import styles from "./LeaveQuestion.module.css";

/** Asks what to do with unsaved work before a screen is left. */
export function LeaveQuestion() {
  const navigation = useNavigation();
  const { asking } = useNavigationState();
  if (!asking) return null;
  return (
    <Dialog title="Leave without saving?" onClose={() => navigation.answer("stay")} answersClose>
      <p>You have not saved {asking.what}.</p>
      <div className={styles.answers}>
        <Button look="main" autoFocus onClick={() => navigation.answer("stay")} keyHint="Esc">
          Stay here
        </Button>
        <Button onClick={() => navigation.answer("keep")}>Leave, and keep what I typed</Button>
        <Button onClick={() => navigation.answer("discard")}>Leave, and forget it</Button>
      </div>
    </Dialog>
  );
}
