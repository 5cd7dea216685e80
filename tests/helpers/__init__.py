"""What tests share: builders of plans and a zoo of awkward ones."""
